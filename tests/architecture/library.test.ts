/** The built core is one module that stands alone: no package, no page, no Node, and the whole way from text to drawing. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import vm from "node:vm";
import { beforeAll, describe, expect, it } from "vitest";
import type * as Core from "../../src/core/index.js";
import { writePlan } from "../../src/plan/write.js";
import { ensureBuilt, root } from "../cli/run-cli.js";
import { hillPlan } from "../exchange/hill-plan.js";

const file = join(root, "dist/core/index.js");
let core: typeof Core;

beforeAll(async () => {
  ensureBuilt("core");
  core = (await import(pathToFileURL(file).href)) as typeof Core;
});

describe("dist/core/index.js", () => {
  it("imports nothing", () => {
    const text = readFileSync(file, "utf8");
    expect(text).not.toMatch(/^\s*import\b[^(]*["']/m);
    expect(text).not.toMatch(/\brequire\(|\bimport\(|["']node:/);
  });

  it("runs where there is neither page nor Node", () => {
    // A script in a bare context sees the language and nothing else; exports become one object.
    const text = readFileSync(file, "utf8").replace(/^export \{([^}]*)\};?\s*$/m, (_, names: string) => {
      const pairs = names.split(",").map((name) => name.trim().split(" as "));
      return `result = { ${pairs.map(([from, to]) => `${to ?? from}: ${from}`).join(", ")} };`;
    });
    const context = vm.createContext({ result: undefined, planText: writePlan(hillPlan) });
    vm.runInContext(text, context);
    const svg: unknown = vm.runInContext(
      `const read = result.readPlan(planText); const layout = result.deriveLayout(read.plan);
       result.takeReadings(read.plan, layout); result.drawSvg(read.plan, layout, { view: "all" })`,
      context,
    );
    expect(svg).toMatch(/^<svg /);
  });

  it("goes from text to layout, readings and drawings", () => {
    const read = core.readPlan(writePlan(hillPlan));
    if (!read.ok) throw new Error("the plan does not read");
    const layout = core.deriveLayout(read.plan);
    const again = core.deriveLayout(read.plan, layout);
    expect(again.derived.lines).toBe(0);
    const ids = new Set(core.takeReadings(read.plan, layout).map((reading) => reading.id));
    expect(ids).toContain("radius");
    expect(core.drawSvg(read.plan, layout, { view: "all" })).toMatch(/^<svg /);
    expect(core.readPlan(core.writePlan(read.plan))).toMatchObject({ ok: true, plan: read.plan });
  });

  it("joins poses", () => {
    const from = { x: 0, y: 0, heading: 0 };
    const to = { x: 2000, y: 800, heading: Math.PI / 2 };
    const path = core.joinPoses(from, to, { radius: 600, easement: 300 });
    if (!path) throw new Error("no way found");
    const end = core.poseAt(path, path.length);
    expect(path.length).toBeGreaterThan(Math.hypot(2000, 800));
    expect([end.x, end.y, end.heading]).toEqual([
      expect.closeTo(2000, 6),
      expect.closeTo(800, 6),
      expect.closeTo(Math.PI / 2, 9),
    ]);
  });

  it("knows lengths, limits, empty plans and the schema", () => {
    expect(core.parseLength(`12' 6 1/2"`, "imperial")).toEqual({ ok: true, mm: expect.closeTo(3822.7, 6) });
    expect(core.formatLength(3822.7, "imperial")).toBe("12′ 6 1/2″");
    expect(core.presetStandards("HO").body).toBe("NMRA");
    const plan = core.emptyPlan({ title: "t", width: 1000, depth: 1000, scale: "N", units: "metric" });
    expect(core.readPlan(core.writePlan(plan)).ok).toBe(true);
    expect(core.planJsonSchema()).toMatchObject({ type: "object" });
  });
});
