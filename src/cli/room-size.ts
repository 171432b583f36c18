/** A room's size as people type it: width by depth. */
import { parseLength, type Units } from "../core/index.js";

export interface RoomSize {
  readonly width: number;
  readonly depth: number;
}

export type ParsedRoom =
  | { readonly ok: true; readonly room: RoomSize }
  | { readonly ok: false; readonly message: string };

/** `21' 6" x 17'`, `4.2 m × 3 m`, `4200 by 3000`; a bare number is in the given units. */
export function parseRoom(text: string, units: Units): ParsedRoom {
  const parts = text.split(/\s*[x×]\s*|\s+by\s+/i);
  const [first, second] = parts;
  if (first === undefined || second === undefined || parts.length !== 2) {
    return { ok: false, message: `"${text}" is no size; expected width x depth, as 12' 6" x 9' or 4.2 m x 3 m` };
  }
  const width = parseLength(first, units);
  const depth = parseLength(second, units);
  if (!width.ok) return width;
  if (!depth.ok) return depth;
  if (width.mm <= 0 || depth.mm <= 0) return { ok: false, message: "a room has some width and some depth" };
  return { ok: true, room: { width: width.mm, depth: depth.mm } };
}
