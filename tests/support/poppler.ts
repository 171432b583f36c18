/** Pages of a PDF as poppler-utils sees them, a program of others: texts, sizes, and ink measured at 600 dots to the inch. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const DPI = 600;
/** Dots to a millimetre. */
export const DOTS = DPI / 25.4;

function poppler(tool: string, args: readonly string[]): Buffer {
  const run = spawnSync(tool, args, { maxBuffer: 200_000_000 });
  if (run.error && "code" in run.error && run.error.code === "ENOENT") {
    throw new Error(
      `${tool} is missing: install poppler-utils (apt-get install -y poppler-utils), printed pages are measured with it.`,
    );
  }
  if (run.error) throw run.error;
  if (run.status !== 0) throw new Error(`${tool} fails: ${run.stderr.toString()}`);
  return run.stdout;
}

export interface Ink {
  readonly width: number;
  readonly height: number;
  /** Darkness at a dot, from 0 for paper to 1. */
  readonly at: (column: number, row: number) => number;
}

export interface Printed {
  /** Words of a page, or of all. */
  readonly text: (page?: number) => string;
  /** Sizes of all pages, mm. */
  readonly sizes: () => { readonly width: number; readonly height: number }[];
  readonly info: () => string;
  /** A box of a page, mm from its upper left corner. */
  readonly ink: (
    page: number,
    box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  ) => Ink;
  readonly remove: () => void;
}

export function printed(bytes: Uint8Array): Printed {
  const folder = mkdtempSync(join(tmpdir(), "printed-"));
  const file = join(folder, "file.pdf");
  writeFileSync(file, bytes);
  const pages = (page?: number): string[] => (page === undefined ? [] : ["-f", String(page), "-l", String(page)]);
  return {
    text: (page) => poppler("pdftotext", ["-layout", ...pages(page), file, "-"]).toString(),
    info: () => poppler("pdfinfo", [file]).toString(),
    sizes: () =>
      [
        ...poppler("pdfinfo", ["-f", "1", "-l", "9999", file])
          .toString()
          .matchAll(/^Page +\d+ size: +([\d.]+) x ([\d.]+) pts/gm),
      ].map(([, width, height]) => ({ width: (Number(width) * 25.4) / 72, height: (Number(height) * 25.4) / 72 })),
    ink: (page, box) => {
      const [x, y, w, h] = [box.x, box.y, box.width, box.height].map((mm) => String(Math.round(mm * DOTS))) as [
        string,
        string,
        string,
        string,
      ];
      const crop = ["-x", x, "-y", y, "-W", w, "-H", h];
      return grey(poppler("pdftoppm", ["-r", String(DPI), "-gray", ...crop, ...pages(page), file]));
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** A portable grey map: P5, width, height, 255, then a byte a dot. */
function grey(file: Buffer): Ink {
  const [head = "", width, height] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(file.subarray(0, 40).toString("latin1")) ?? [];
  const [w, h] = [Number(width), Number(height)];
  if (!(w > 0 && h > 0)) throw new Error("not a grey map");
  return { width: w, height: h, at: (column, row) => 1 - (file[head.length + row * w + column] ?? 255) / 255 };
}

/**
 * Where along a line through the middle of the ink the darkness lies, mm from the middle: the middles of dark runs at
 * least so dark. `angle` turns the line, from +x clockwise as the paper is seen.
 */
export function darkAlong(ink: Ink, angle: number, reach: number): number[] {
  const [cx, cy] = [(ink.width - 1) / 2, (ink.height - 1) / 2];
  const step = 0.25;
  const found: number[] = [];
  let run: { readonly from: number; weight: number; sum: number } | undefined;
  for (let t = -reach * DOTS; t <= reach * DOTS; t += step) {
    const dark = ink.at(Math.round(cx + t * Math.cos(angle)), Math.round(cy + t * Math.sin(angle)));
    if (dark > 0.3) {
      run ??= { from: t, weight: 0, sum: 0 };
      run.weight += dark;
      run.sum += dark * t;
    } else if (run) {
      found.push(run.sum / run.weight / DOTS);
      run = undefined;
    }
  }
  return found;
}
