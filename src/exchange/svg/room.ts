/** The room: hatched walls with their openings, door swings, foot marks on the floor, and what stands in the way. */
import { bearing, distance, offsetPoint, type Point, type Pose } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Opening, Room } from "../../plan/schema.js";
import { element, figure, group, type Markup } from "./markup.js";
import { areaData, lineData, paperLine } from "./shapes.js";
import { lettered, onPaper, px, type Sheet, textWidth } from "./sheet.js";

/** Width of the hatched band that stands for a wall, px; the wall's true thickness is not in the plan. */
const WALL_BAND = 10;
const HATCH_STEP = 5;

/** The hatch of walls and obstacles: 45 degree lines every 5 px. */
export function hatchPattern(sheet: Sheet, id: string): Markup {
  const step = px(sheet, HATCH_STEP);
  const line = element("line", {
    x1: 0,
    y1: 0,
    x2: 0,
    y2: step,
    stroke: sheet.palette.wall,
    "stroke-width": px(sheet, 0.7),
  });
  return element(
    "pattern",
    { id, width: step, height: step, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    line,
  );
}

/** Corners of the wall faces, anticlockwise whichever way they were written. */
export function wallCorners(room: Room): { corners: readonly Point[]; reversed: boolean } {
  const twice = room.outline.reduce((sum, p, i) => {
    const next = room.outline[(i + 1) % room.outline.length] ?? p;
    return sum + p.x * next.y - next.x * p.y;
  }, 0);
  return { corners: room.outline, reversed: twice < 0 };
}

/** Pose at the near side of an opening, looking along its wall; the outside is to the right. Undefined where there is no such wall. */
function openingPose(room: Room, opening: Opening): Pose | undefined {
  const from = room.outline[opening.wall];
  const to = room.outline[(opening.wall + 1) % room.outline.length];
  if (!from || !to || distance(from, to) === 0) return undefined;
  const heading = bearing(from, to);
  return { ...offsetPoint({ ...from, heading }, opening.at, 0), heading };
}

interface Swing {
  readonly hinge: Point;
  readonly open: Point;
  readonly shut: Point;
  /** Whether the leaf closes clockwise on the paper. */
  readonly clockwise: boolean;
}

function doorSwing(room: Room, opening: Opening): Swing | undefined {
  const pose = openingPose(room, opening);
  if (!pose || !opening.swing) return undefined;
  const outward = wallCorners(room).reversed ? 1 : -1;
  const side = opening.swing.into === "room" ? -outward : outward;
  const near = opening.swing.hinge === "near";
  const hinge = offsetPoint(pose, near ? 0 : opening.width, 0);
  const shut = offsetPoint(pose, near ? opening.width : 0, 0);
  const open = offsetPoint({ ...hinge, heading: pose.heading }, 0, side * opening.width);
  return { hinge, open, shut, clockwise: near === side > 0 };
}

/** Points the drawing of the room must hold: its corners and what doors sweep. */
export function roomExtent(room: Room): Point[] {
  return [...room.outline, ...Object.values(room.openings).flatMap((o) => doorSwing(room, o)?.open ?? [])];
}

/** The band of the walls, the floor and foot marks; everything else is drawn over them. */
export function drawWalls(sheet: Sheet, hatch: string): Markup {
  const { room } = sheet.plan;
  const { palette } = sheet;
  const d = lineData(sheet, room.outline, true);
  const band = 2 * px(sheet, WALL_BAND);
  const around = (stroke: string, width: number) =>
    element("path", {
      d,
      fill: "none",
      stroke,
      "stroke-width": width,
      "stroke-linejoin": "miter",
      "stroke-miterlimit": 8,
    });
  return group({ "data-layer": "floor" }, [
    around(palette.wall, band + px(sheet, 1.8)),
    around(palette.paper, band),
    around(`url(#${hatch})`, band),
    element("path", { d, fill: palette.paper }),
    footMarks(sheet),
  ]);
}

/** Faces of the walls and what opens in them, over the benches that stand against them. */
export function drawWallFaces(sheet: Sheet): Markup {
  const { room } = sheet.plan;
  const d = lineData(sheet, room.outline, true);
  return group({ "data-layer": "walls" }, [
    element("path", { d, fill: "none", stroke: sheet.palette.wall, "stroke-width": px(sheet, 1.8) }),
    ...Object.values(room.openings).map((opening) => drawOpening(sheet, opening)),
  ]);
}

/** Crosses on the floor every two feet or half metre: the eye's own scale. Clipped to the room by lying inside it. */
function footMarks(sheet: Sheet): Markup {
  const step = sheet.plan.units === "imperial" ? 609.6 : 500;
  const { outline } = sheet.plan.room;
  const xs = outline.map((p) => p.x);
  const ys = outline.map((p) => p.y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  /** A hall of kilometres would drown in crosses. */
  const most = 4000;
  if (((maxX - minX) / step) * ((maxY - minY) / step) > most) return "";
  const arm = px(sheet, 2.5);
  let d = "";
  for (let x = minX + step; x < maxX; x += step) {
    for (let y = minY + step; y < maxY; y += step) {
      if (!isInside({ x, y }, outline)) continue;
      const p = onPaper(sheet, { x, y });
      d += `${paperLine({ x: p.x - arm, y: p.y }, { x: p.x + arm, y: p.y })}${paperLine({ x: p.x, y: p.y - arm }, { x: p.x, y: p.y + arm })}`;
    }
  }
  return d ? element("path", { d, fill: "none", stroke: sheet.palette.survey, "stroke-width": px(sheet, 0.6) }) : "";
}

/** Even-odd rule; only for where to put decoration and lettering. */
export function isInside(p: Point, ring: readonly Point[]): boolean {
  return ring.reduce((within, a, i) => {
    const b = ring[(i + 1) % ring.length] ?? a;
    const crosses = a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x);
    return crosses ? !within : within;
  }, false);
}

function drawOpening(sheet: Sheet, opening: Opening): Markup {
  const { room } = sheet.plan;
  const pose = openingPose(room, opening);
  if (!pose) return "";
  const outward = wallCorners(room).reversed ? 1 : -1;
  const band = px(sheet, WALL_BAND) * sheet.scale;
  const pen = px(sheet, 1.8) * sheet.scale;
  const corner = (along: Millimetres, out: Millimetres) => offsetPoint(pose, along, outward * out);
  const stroke = { fill: "none", stroke: sheet.palette.wall };
  const marks: Markup[] = [
    element("path", {
      d: lineData(
        sheet,
        [corner(0, -pen), corner(opening.width, -pen), corner(opening.width, band + pen), corner(0, band + pen)],
        true,
      ),
      fill: sheet.palette.paper,
    }),
    element("path", {
      ...stroke,
      d: [0, opening.width].map((u) => lineData(sheet, [corner(u, -pen / 2), corner(u, band + pen / 2)])).join(""),
      "stroke-width": px(sheet, 1.8),
    }),
  ];
  if (opening.kind === "window") {
    const d = [0, band / 2, band].map((out) => lineData(sheet, [corner(0, out), corner(opening.width, out)])).join("");
    marks.push(element("path", { ...stroke, d, "stroke-width": px(sheet, 0.7) }));
  }
  const swing = doorSwing(room, opening);
  if (swing) {
    const r = opening.width / sheet.scale;
    const shut = onPaper(sheet, swing.shut);
    const open = onPaper(sheet, swing.open);
    const arc = `M${figure(open.x)} ${figure(open.y)}A${figure(r)} ${figure(r)} 0 0 ${swing.clockwise ? 1 : 0} ${figure(shut.x)} ${figure(shut.y)}`;
    marks.push(
      element("path", { ...stroke, d: arc, "stroke-width": px(sheet, 0.6) }),
      element("path", { ...stroke, d: lineData(sheet, [swing.hinge, swing.open]), "stroke-width": px(sheet, 1.8) }),
    );
  }
  const said = opening.name ?? opening.kind;
  const beyond = band + px(sheet, 9) * sheet.scale;
  const out = opening.swing?.into === "outside" ? opening.width * 0.4 : beyond;
  const along = onPaper(sheet, corner(opening.width / 2, out));
  const vertical = Math.abs(Math.sin(pose.heading)) > 0.7;
  marks.push(
    lettered(sheet, along, said, {
      size: 12,
      colour: sheet.palette.ink2,
      halo: sheet.palette.paper,
      turn: vertical && !opening.swing ? -90 : 0,
    }),
  );
  return group({ "data-opening": opening.kind }, marks);
}

/** Chimney breasts, workbenches, heaters: hatched, with their name on a clear field. */
export function drawObstacles(sheet: Sheet, hatch: string): Markup {
  const marks = Object.values(sheet.plan.room.obstacles).map((obstacle) => {
    const d = areaData(sheet, [obstacle.outline]);
    const xs = obstacle.outline.map((p) => p.x);
    const ys = obstacle.outline.map((p) => p.y);
    const middle = onPaper(sheet, {
      x: (Math.min(...xs) + Math.max(...xs)) / 2,
      y: (Math.min(...ys) + Math.max(...ys)) / 2,
    });
    const room = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) / sheet.scale;
    const tall = Math.max(...ys) - Math.min(...ys) > Math.max(...xs) - Math.min(...xs);
    const wide = obstacle.name ? textWidth(sheet, obstacle.name, 12) + px(sheet, 8) : 0;
    const field = wide > 0 && wide <= room;
    return group({}, [
      element("path", { d, fill: sheet.palette.paper }),
      element("path", { d, fill: `url(#${hatch})`, stroke: sheet.palette.wall, "stroke-width": px(sheet, 1.2) }),
      ...(field && obstacle.name
        ? [
            element("rect", {
              x: middle.x - (tall ? px(sheet, 8) : wide / 2),
              y: middle.y - (tall ? wide / 2 : px(sheet, 8)),
              width: tall ? px(sheet, 16) : wide,
              height: tall ? wide : px(sheet, 16),
              fill: sheet.palette.paper,
            }),
            lettered(sheet, middle, obstacle.name, { size: 12, colour: sheet.palette.ink2, turn: tall ? -90 : 0 }),
          ]
        : []),
    ]);
  });
  return group({ "data-layer": "obstacles" }, marks);
}
