/** Files on the reader's own disk: straight to the file where the browser can, else by choosing and downloading. */

/** A file that can be written again. */
export interface SaveTarget {
  readonly name: string;
  /** When it was last changed, ms since 1970. */
  modified(): Promise<number>;
  /** Writes it whole; answers when it then was changed. */
  write(text: string): Promise<number>;
}

export interface PickedFile {
  readonly name: string;
  readonly size: number;
  readonly modified: number;
  text(): Promise<string>;
  readonly target?: SaveTarget;
}

export interface Disk {
  /** Undefined where nothing was chosen. */
  pick(): Promise<PickedFile | undefined>;
  /** Where it was written to; without a target where it was only downloaded; undefined where it was given up. */
  saveAs(
    name: string,
    text: string,
  ): Promise<{ readonly name: string; readonly target?: SaveTarget; readonly modified?: number } | undefined>;
}

interface PickerOptions {
  readonly types: readonly {
    readonly description: string;
    readonly accept: Readonly<Record<string, readonly string[]>>;
  }[];
  readonly suggestedName?: string;
  readonly id?: string;
}
interface Pickers {
  showOpenFilePicker?: (this: void, options: PickerOptions) => Promise<FileSystemFileHandle[]>;
  showSaveFilePicker?: (this: void, options: PickerOptions) => Promise<FileSystemFileHandle>;
}

const TYPES = [{ description: "Plan", accept: { "application/json": [".json"] } }] as const;
const ID = "plans";

const pickers = (): Pickers => globalThis as Pickers;

/** Undefined where the chooser was closed; any other failure is the caller's to tell. */
async function unlessGivenUp<T>(asked: Promise<T>): Promise<T | undefined> {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return undefined;
    throw error;
  }
}

export function targetOf(handle: FileSystemFileHandle): SaveTarget {
  const modified = async (): Promise<number> => (await handle.getFile()).lastModified;
  return {
    name: handle.name,
    modified,
    async write(text) {
      // The browser swaps the whole file in on close, so that a failure leaves the old one.
      const stream = await handle.createWritable();
      await stream.write(text);
      await stream.close();
      return modified();
    },
  };
}

export const fromFile = (file: File, handle?: FileSystemFileHandle): PickedFile => ({
  name: file.name,
  size: file.size,
  modified: file.lastModified,
  text: () => file.text(),
  ...(handle && { target: targetOf(handle) }),
});

export const browserDisk: Disk = {
  async pick() {
    const open = pickers().showOpenFilePicker;
    if (!open) return chooseFile();
    const handles = await unlessGivenUp(open({ types: TYPES, id: ID }));
    const handle = handles?.[0];
    return handle && fromFile(await handle.getFile(), handle);
  },
  async saveAs(name, text) {
    const save = pickers().showSaveFilePicker;
    if (!save) {
      download(name, text);
      return { name };
    }
    const handle = await unlessGivenUp(save({ types: TYPES, suggestedName: name, id: ID }));
    if (!handle) return undefined;
    const target = targetOf(handle);
    return { name: handle.name, target, modified: await target.write(text) };
  },
};

function chooseFile(): Promise<PickedFile | undefined> {
  const input = document.createElement("input");
  input.type = "file";
  input.accept = ".json,application/json";
  return new Promise((resolve) => {
    input.addEventListener("change", () => {
      const file = input.files?.[0];
      resolve(file && fromFile(file));
    });
    input.addEventListener("cancel", () => resolve(undefined));
    input.click();
  });
}

export function download(name: string, text: string | Uint8Array<ArrayBuffer>, type = "application/json"): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // Some browsers read the data only after this turn.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
