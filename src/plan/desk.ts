/** Where a reading puts down what it finds: problems in the order met, and what is set aside. */
import { writable } from "./contents.js";
import { type Fault, printFault } from "./explain.js";
import type { JsonPath } from "./json-text.js";
import { locate, type Problem } from "./problem.js";
import type { SetAside } from "./schema.js";

/** With more faults than this the rest is set aside unread, so that no file can keep the program busy for minutes. */
const MOST_FAULTS = 50_000;

export class Desk {
  readonly problems: Problem[] = [];
  readonly setAside: SetAside[] = [];

  /** Faults met so far, those of one record beyond the first few included. */
  faults = 0;

  constructor(readonly file: string) {}

  get full(): boolean {
    return this.faults >= MOST_FAULTS;
  }

  error(path: JsonPath, message: string): void {
    this.problems.push({ file: this.file, ...locate(path), severity: "error", message });
  }

  warn(path: JsonPath, message: string): void {
    this.problems.push({ file: this.file, ...locate(path), severity: "warning", message });
  }

  /** Sets a value aside, whole, with what is wrong with it; an absent one is only reported. */
  setAsideValue(
    path: JsonPath,
    value: unknown,
    faults: readonly Fault[],
    severity: Problem["severity"] = "error",
  ): void {
    const { record, property } = locate(path);
    for (const fault of faults) {
      const where = locate([...path, ...fault.path]);
      this.problems.push({ file: this.file, ...where, severity, message: fault.message });
    }
    if (value === undefined) return;
    this.setAside.push({
      record,
      ...(property === "" ? {} : { property }),
      reasons: faults.map(printFault),
      value: writable(value),
    });
  }

  /** Takes over what an earlier reading set aside. */
  setAsideBefore(earlier: SetAside): void {
    const { record, property = "", reasons } = earlier;
    const message = `was set aside earlier: ${reasons.join("; ")}`;
    this.problems.push({ file: this.file, record, property, severity: "warning", message });
    this.setAside.push(earlier);
  }
}
