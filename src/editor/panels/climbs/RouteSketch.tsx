/** The shape of a route in its room, as small as a stamp. */
import { useMemo } from "react";
import type { ClimbRoute } from "../../../climb/request.js";
import type { Area } from "../../../geometry/areas.js";
import { samplePath } from "../../../geometry/path.js";
import type { Point } from "../../../geometry/pose.js";
import type { Layout } from "../../../layout/layout.js";
import { layoutWith } from "../../climbs/desk.js";
import { roomBox } from "../../room-box.js";

const SIZE = { width: 84, height: 62 } as const;
/** Room kept round the walls, mm. */
const EDGE = 120;
/** Chords may stray so far, mm: less than half a pixel in any room one can stand in. */
const STRAY = 20;

export function RouteSketch({ asked, route }: { readonly asked: Layout; readonly route: ClimbRoute }) {
  const drawn = useMemo(() => {
    const layout = layoutWith(asked, route);
    const path = layout.lines.get(`track:${route.track}`)?.path;
    const points = path ? samplePath(path, STRAY) : [];
    const benches = [...layout.space.decks.values()].map(({ bench }) => areaMarks(bench)).join("");
    return { line: lineMarks(points), benches, start: points[0], room: `${lineMarks(layout.plan.room.outline)}Z` };
  }, [asked, route]);
  const { minX, minY, maxX, maxY } = roomBox(asked.plan);
  const view = `${minX - EDGE} ${-maxY - EDGE} ${maxX - minX + 2 * EDGE} ${maxY - minY + 2 * EDGE}`;
  return (
    <svg className="route-sketch" viewBox={view} {...SIZE} aria-hidden="true">
      <path className="benches" d={drawn.benches} />
      <path className="walls" d={drawn.room} />
      <path className="line" d={drawn.line} />
      {drawn.start && <path className="foot" d={`M${mark(drawn.start)}h0`} />}
    </svg>
  );
}

/** y runs up the sheet and down the screen. */
const mark = ({ x, y }: Point): string => `${Math.round(x)} ${Math.round(-y)}`;
const lineMarks = (points: readonly Point[]): string => (points.length > 0 ? `M${points.map(mark).join("L")}` : "");
const areaMarks = (area: Area): string => area.map((ring) => `${lineMarks(ring)}Z`).join("");
