/** Where the parts of a turntable lie: its pit begins at the end of the approach, the stalls at the pit's edge. */
import { offsetPoint, type Point, type Pose } from "../geometry/pose.js";
import type { Millimetres, Radians } from "../geometry/units.js";

/** The centre of the pit, half a bridge beyond the end of the approach. */
export const pitCentre = (approach: Pose, bridge: Millimetres): Point => offsetPoint(approach, bridge / 2, 0);

/** Where a stall begins, leading away from the pit; `angle` is turned to the left of the way the approach leads on. */
export function stallPose(approach: Pose, bridge: Millimetres, angle: Radians): Pose {
  const heading = approach.heading + angle;
  return { ...offsetPoint({ ...pitCentre(approach, bridge), heading }, bridge / 2, 0), heading };
}
