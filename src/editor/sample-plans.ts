/** The plans that come with the program, by file name; each is fetched only when it is opened. */
const FILES = import.meta.glob<string>("../../sample-plans/*.plan.json", { query: "?raw", import: "default" });

export interface SamplePlan {
  readonly file: string;
  readonly name: string;
  readonly load: () => Promise<string>;
}

const fileOf = (path: string): string => path.slice(path.lastIndexOf("/") + 1);

/** `larkmoor-and-summit.plan.json` reads Larkmoor and summit. */
const nameOf = (file: string): string => {
  const words = file.replace(/\.plan\.json$/, "").replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
};

const FIRST = "larkmoor-and-summit.plan.json";

/** The one to open with comes first. */
export const SAMPLE_PLANS: readonly SamplePlan[] = Object.entries(FILES)
  .map(([path, load]) => ({ file: fileOf(path), name: nameOf(fileOf(path)), load }))
  .sort((a, b) => Number(b.file === FIRST) - Number(a.file === FIRST) || a.file.localeCompare(b.file));
