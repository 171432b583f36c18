/** How what is kept is spoken of. */
import type { VersionEntry } from "./shelf.js";

export const whenText = (at: number): string =>
  Number.isFinite(at)
    ? new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" })
    : "a time unknown";

/** `“Before the helix”`, `Saved as attic.plan.json`. */
export function versionName({ kind, name }: Pick<VersionEntry, "kind" | "name">): string {
  if (kind === "named") return name ? `“${name}”` : "Kept by hand";
  if (kind === "saved") return name ? `Saved as ${name}` : "Saved";
  if (kind === "aside") return "Set aside: work of another tab";
  return kind === "opened" ? "As it was opened" : "Kept by itself";
}

/** Of a text's letters, one byte each as good as always. */
export const sizeText = (letters: number): string =>
  letters < 10_000
    ? `${(letters / 1000).toFixed(1)} kB`
    : letters < 1_000_000
      ? `${Math.round(letters / 1000)} kB`
      : `${(letters / 1e6).toFixed(1)} MB`;
