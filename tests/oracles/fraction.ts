/** Inches as standards print them, `3 1/16`, `1-13/16` or a plain number. */
export function fraction(printed: string | number): number {
  if (typeof printed === "number") return printed;
  return printed
    .trim()
    .split(/[\s-]+/)
    .map((part) => {
      const [over = Number.NaN, under = 1] = part.split("/").map(Number);
      return over / under;
    })
    .reduce((sum, part) => sum + part, 0);
}

/** Degrees as `14d15m`, `4d50'`, `0d20m00s` or `14-15-00.12`. */
export function angle(printed: string): number {
  const [degrees = Number.NaN, minutes = 0, seconds = 0] = (printed.match(/\d+(?:\.\d+)?/g) ?? []).map(Number);
  return degrees + minutes / 60 + seconds / 3600;
}
