/** What is being done, on stderr, while someone watches; silent in scripts and pipes. */
export function during<T>(what: string, work: () => T): T {
  if (!process.stderr.isTTY) return work();
  process.stderr.write(`${what} …`);
  try {
    return work();
  } finally {
    // Back to the start of the line and clear it: the result speaks for itself.
    process.stderr.write("\r\u001b[K");
  }
}

export interface Telling {
  /** Takes the place of what was told before. */
  tell(what: string): void;
  /** Clears the line. */
  done(): void;
}

/** Most of a line that a terminal shows without breaking it. */
const LINE = 78;

/** The same for work that says how far it is; nothing at all where nobody watches. */
export function telling(): Telling {
  if (!process.stderr.isTTY) return { tell: () => {}, done: () => {} };
  return {
    tell: (what) => void process.stderr.write(`\r\u001b[K${what.slice(0, LINE)}`),
    done: () => void process.stderr.write("\r\u001b[K"),
  };
}
