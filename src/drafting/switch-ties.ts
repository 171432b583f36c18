/**
 * Ties of a turnout's diverging route: while the routes lie side by side, the host's own ties are long enough to carry
 * both, as switch ties are; beyond, the route has ties of its own.
 *
 * Always holds: each long tie lies square to the host, in line with one of the host's ties, and reaches as far beyond the
 * route's centre line as an ordinary tie does.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Line, PlacedTurnout } from "../layout/line.js";
import { type Outline, outlineOf, type Stretch, tiesOf } from "./line-shapes.js";

/** Routes farther apart than so many tie lengths stand on ties of their own. */
const APART = 1.1;

/** `step`: from tie to tie, the same on host and route. A wye has no host beside it: its ties are ordinary ones. */
export function switchTiesOf(
  route: Line,
  host: Line,
  { departs, direction }: Pick<PlacedTurnout, "departs" | "direction">,
  { from, to, sagitta }: Stretch,
  length: Millimetres,
  step: Millimetres,
): Outline {
  const chains: Float64Array[] = [];
  const half = length / 2;
  let own = from;
  // Ties of the host stand at every odd half step of its length.
  const first = Math.floor(departs / step - 0.5) + (direction === 1 ? 1 : 0);
  for (let n = first; ; n += direction) {
    const at = (n + 0.5) * step;
    const s = (at - departs) * direction;
    if (s >= Math.min(to, route.path.length) || at < 0 || at > host.path.length) break;
    if (s < 0) continue;
    const p = poseAt(host.path, at);
    const q = poseAt(route.path, s);
    const [nx, ny] = [-Math.sin(p.heading), Math.cos(p.heading)];
    const off = (q.x - p.x) * nx + (q.y - p.y) * ny;
    if (Math.abs(off) > length * APART) break;
    own = Math.max(own, s + step / 2);
    if (s < from) continue;
    const far = off + Math.sign(off) * half;
    const near = Math.sign(off) * half;
    chains.push(Float64Array.of(p.x + nx * near, p.y + ny * near, p.x + nx * far, p.y + ny * far));
  }
  return outlineOf([...chains, ...tiesOf(route, { from: own, to, sagitta }, length, step).chains], false);
}
