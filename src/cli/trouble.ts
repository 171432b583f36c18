/** What a command cannot do: one line on stderr and a failing exit. */

/** Nothing fails; something fails its limit or was set aside; a file or a wish cannot be read. */
export const EXIT = { fine: 0, fails: 1, unreadable: 2 } as const;

export class Trouble extends Error {
  readonly lines: readonly string[];
  constructor(...lines: readonly string[]) {
    super(lines[0] ?? "");
    this.lines = lines;
  }
}

/** What the system says of a file, in plain words. */
export function reasonOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  const words: Readonly<Record<string, string>> = {
    ENOENT: "no such file or folder",
    EACCES: "not allowed",
    EPERM: "not allowed",
    EISDIR: "is a folder",
    ENOTDIR: "part of the path is no folder",
    EEXIST: "exists already; --force writes over it",
    ENOSPC: "the disk is full",
    EROFS: "the disk is read only",
  };
  if (typeof code === "string") return words[code] ?? code;
  return error instanceof Error ? error.message : String(error);
}
