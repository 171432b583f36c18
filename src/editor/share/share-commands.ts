/** What the File menu hands on: a link, and the forms in which a plan leaves. All of it is fetched when it is asked for. */
import { download } from "../files/disk.js";
import type { Page } from "../page-commands.js";
import { askForPrint } from "./printing.js";

export type ExportKind = "svg" | "dxf" | "readings" | "heights" | "html";

export interface ShareCommand {
  readonly id: string;
  readonly name: string;
  run(page: Page): void;
}

const EXPORTS: readonly (readonly [ExportKind, string])[] = [
  ["svg", "Drawing to scale (SVG)"],
  ["dxf", "Lines to cut from (DXF)"],
  ["readings", "Readings (CSV)"],
  ["heights", "Heights along the track (CSV)"],
  ["html", "Page to look at (HTML)"],
];

async function hand({ store }: Page, kind: ExportKind): Promise<void> {
  try {
    const { exported } = await import("./export-plan.js");
    const { name, type, text } = exported(store.getState(), kind);
    download(name, text, type);
    store.getState().say(`Downloaded as ${name}.`);
  } catch (error) {
    store.getState().say(`Not exported: ${error instanceof Error ? error.message : "the browser does not say why"}.`);
  }
}

async function copy({ store }: Page): Promise<void> {
  try {
    const { copyLink, pageClipboard } = await import("./copy-link.js");
    await copyLink(store, location.href.replace(/#.*$/, ""), pageClipboard);
  } catch (error) {
    store.getState().say(`No link: ${error instanceof Error ? error.message : "the browser does not say why"}.`);
  }
}

export const SHARE_COMMANDS: readonly ShareCommand[] = [
  { id: "copy-link", name: "Copy a link to this plan", run: (page) => void copy(page) },
  { id: "print-drawings", name: "Drawing sheets (PDF)…", run: () => askForPrint("drawings") },
  { id: "print-templates", name: "Full-size templates (PDF)…", run: () => askForPrint("templates") },
  ...EXPORTS.map(
    ([kind, name]): ShareCommand => ({ id: `export-${kind}`, name, run: (page) => void hand(page, kind) }),
  ),
];
