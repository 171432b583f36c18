/** Ids for new records: short, readable, and not in use anywhere in the plan. */
import { idsInUse } from "./collections.js";
import { BOUNDS, type Id, type Plan } from "./schema.js";

/** Room for the hyphen and a count or a random ending. */
const STEM = BOUNDS.id - 8;

/**
 * An id made from a name ("Larkmoor main" gives `larkmoor-main`), numbered where that is taken. With `random` (a number
 * from 0 to 1) it ends in four random letters, so that two people who add to copies of a plan do not meet in one id.
 */
export function freshId(plan: Plan, name: string, random?: () => number): Id {
  const used = idsInUse(plan);
  const plain = name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, STEM)
    .replace(/^-|-$/g, "");
  const stem = plain === "" || plain in Object.prototype || plain === "prototype" ? `${plain}x` : plain;
  if (random === undefined && !used.has(stem)) return stem;
  if (random !== undefined) {
    const drawn = `${stem}-${Math.floor(random() * 36 ** 4)
      .toString(36)
      .padStart(4, "0")}`;
    if (!used.has(drawn)) return drawn;
  }
  for (let n = 2; ; n += 1) if (!used.has(`${stem}-${n}`)) return `${stem}-${n}`;
}
