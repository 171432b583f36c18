/** The room: hatched walls with their openings, door swings, foot marks on the floor, and what stands in the way. */
import { WALL_BAND, HATCH_STEP } from "../../drafting/line-weights.js";
import { doorSwing, openingPose, outsideOf } from "../../layout/openings.js";
import { prepareArea } from "../../geometry/area-distance.js";
import { offsetPoint } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Opening } from "../../plan/schema.js";
import { element, figure, group, type Markup } from "./markup.js";
import { areaData, lineData, paperLine } from "./shapes.js";
import { onPaper, px, type Sheet } from "./sheet.js";

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
  const floor = prepareArea([outline]);
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
      if (!floor.contains({ x, y })) continue;
      const p = onPaper(sheet, { x, y });
      d += `${paperLine({ x: p.x - arm, y: p.y }, { x: p.x + arm, y: p.y })}${paperLine({ x: p.x, y: p.y - arm }, { x: p.x, y: p.y + arm })}`;
    }
  }
  return d ? element("path", { d, fill: "none", stroke: sheet.palette.survey, "stroke-width": px(sheet, 0.6) }) : "";
}

function drawOpening(sheet: Sheet, opening: Opening): Markup {
  const { room } = sheet.plan;
  const pose = openingPose(room, opening);
  if (!pose) return "";
  const outward = outsideOf(room);
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
  return group({ "data-opening": opening.kind }, marks);
}

/** Chimney breasts, workbenches, heaters: hatched. */
export function drawObstacles(sheet: Sheet, hatch: string): Markup {
  const marks = Object.values(sheet.plan.room.obstacles).map((obstacle) => {
    const d = areaData(sheet, [obstacle.outline]);
    return group({}, [
      element("path", { d, fill: sheet.palette.paper }),
      element("path", { d, fill: `url(#${hatch})`, stroke: sheet.palette.wall, "stroke-width": px(sheet, 1.2) }),
    ]);
  });
  return group({ "data-layer": "obstacles" }, marks);
}
