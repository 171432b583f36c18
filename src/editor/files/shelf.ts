/**
 * What is kept of plans in the browser: the newest of each, how it looks from afar, and its versions. Here is what is
 * kept and which writes count; browser-shelf.ts puts it into the browser's storage.
 */

/** What is told of a plan on the shelf. */
export interface ShelfEntry {
  /** Of the document, whichever tab holds it. */
  readonly id: string;
  readonly title: string;
  readonly fileName: string;
  /** ms since 1970, by a clock that may be wrong: told, never relied on. */
  readonly keptAt: number;
  /** The tab that may write it. */
  readonly tab: string;
  /** Counts the writes of this plan. What counts more is newer, whatever the clock says. */
  readonly turn: number;
  /** Changed since it was last written to a file. */
  readonly unsaved: boolean;
  /** Of the text of its file, where it has one, to know it again. */
  readonly print?: string;
}

export interface KeptPlan extends ShelfEntry {
  /** The plan file's text. */
  readonly text: string;
}

/** A plan from afar, made while it was open. */
export interface PlanLook {
  readonly id: string;
  readonly picture: Picture;
  /** Letters of its text. */
  readonly size: number;
  readonly tracks: number;
}

/** Outlines in a box, as the `d` of SVG paths. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly room: string;
  readonly benches: string;
  readonly tracks: string;
  readonly hidden: string;
}

/** aside: work of a tab that was no longer the one to write it. opened: as it was before the first edit. */
export type VersionKind = "automatic" | "opened" | "saved" | "named" | "aside";

export interface VersionEntry {
  /** Of the document. */
  readonly id: string;
  /** Counts the versions of one document. */
  readonly number: number;
  readonly at: number;
  readonly kind: VersionKind;
  /** The owner's name for it, or the file's. */
  readonly name: string;
  readonly title: string;
  /** Letters of its text. */
  readonly size: number;
  readonly print: string;
}

export interface KeptVersion extends VersionEntry {
  readonly packed: string | Uint8Array;
}

/** older: a later write was there already. taken: another tab has it. anew: it was there and is gone; it is written again. */
export type Put = "kept" | "older" | "taken" | "anew";

/** Whether what is to be kept counts beside what is there; `expected` where an earlier write of it has come there. */
export function putOver(there: ShelfEntry | undefined, kept: ShelfEntry, expected: boolean): Put {
  if (!there) return expected ? "anew" : "kept";
  if (there.tab !== kept.tab) return "taken";
  return there.turn < kept.turn ? "kept" : "older";
}

/** Whether a version says no more than the one before it. */
export const saysNoMore = (last: VersionEntry | undefined, next: Omit<VersionEntry, "number">): boolean =>
  last?.print === next.print &&
  (next.kind === "automatic" || next.kind === "opened" || (last.kind === next.kind && last.name === next.name));

export interface Shelf {
  /** firm: it is on the disk when this is done, not only in the hands of the system; a killed browser loses neither. */
  put(kept: KeptPlan, expected: boolean, firm: boolean): Promise<Put>;
  /** From now on only this tab writes the plan. What is there then; undefined where nothing is. */
  claim(id: string, tab: string): Promise<KeptPlan | undefined>;
  get(id: string): Promise<KeptPlan | undefined>;
  entries(): Promise<readonly ShelfEntry[]>;
  looks(): Promise<readonly PlanLook[]>;
  putLook(look: PlanLook): Promise<void>;
  /** With its versions. */
  remove(id: string): Promise<void>;
  /** In the order they were kept. */
  versions(id: string): Promise<readonly VersionEntry[]>;
  version(id: string, number: number): Promise<KeptVersion | undefined>;
  /** Gives it the next number; undefined, and nothing is written, where it says no more than the last one. */
  addVersion(version: Omit<KeptVersion, "number">): Promise<number | undefined>;
  removeVersions(id: string, numbers: readonly number[]): Promise<void>;
}

/** What is kept of documents no tab has open and is in no file, the newest first. */
export async function leftBehind(shelf: Shelf, open: ReadonlySet<string>): Promise<ShelfEntry[]> {
  const all = await shelf.entries();
  return all.filter(({ id, unsaved }) => unsaved && !open.has(id)).sort((a, b) => b.keptAt - a.keptAt);
}
