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
