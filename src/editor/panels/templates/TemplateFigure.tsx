/** A measured turnout drawn to scale: as large as the column takes, in whole parts of its true size. */
import { templateDrawing } from "../../../drafting/template-drawing.js";
import type { Point } from "../../../geometry/pose.js";
import type { Template } from "../../../plan/schema.js";

/** The column, in mm of the screen. */
const WIDE = 70;
const SCALES = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 30, 50];
const MARGIN = 1;

export function TemplateFigure({ template, gauge }: { readonly template: Template; readonly gauge: number }) {
  const drawing = templateDrawing(template, gauge);
  if (!drawing)
    return <p className="fault">There can be no such part: its curve and points do not fit into its length.</p>;
  const { rails, ticks, box } = drawing;
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const scale = SCALES.find((part) => width / part <= WIDE) ?? Math.ceil(width / WIDE);
  const margin = MARGIN * scale;
  const view = [box.minX - margin, -box.maxY - margin, width + 2 * margin, height + 2 * margin];
  return (
    <figure className="template-figure">
      <svg
        role="img"
        aria-label={`${template.name}, drawn 1:${scale}`}
        viewBox={view.join(" ")}
        width={`${(width + 2 * margin) / scale}mm`}
        height={`${(height + 2 * margin) / scale}mm`}
      >
        <path d={rails.map(pathOf).join("")} />
        <path className="ticks" d={ticks.map(pathOf).join("")} />
      </svg>
      <figcaption className="quiet">1:{scale}</figcaption>
    </figure>
  );
}

const pathOf = (points: readonly Point[]): string =>
  points.map(({ x, y }, i) => `${i === 0 ? "M" : "L"}${x.toFixed(2)} ${(-y).toFixed(2)}`).join("");
