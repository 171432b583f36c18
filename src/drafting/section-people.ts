/** People in a section: the operator on the floor, the lines of sight to the back of every deck, and the arcs of reach. */
import type { Millimetres } from "../geometry/units.js";
import { type BackView, reachesFrom, type Reach, type Standing, viewsFrom } from "../layout/section-sight.js";
import { lengthText } from "./figures.js";
import { DASH, WEIGHT } from "./line-weights.js";
import type { SectionLook } from "./section-drawing.js";
import { line, type SectionLayer, type SectionMark, type SectionPlace } from "./section-marks.js";

/** Crown of the head over the eyes, chin below them, and half the breadth of a head, mm (common practice, no source). */
const CROWN: Millimetres = 112;
const CHIN: Millimetres = 118;
const HEAD: Millimetres = 84;
/** Hidden by less than this nobody notices, mm. */
const NOTICED: Millimetres = 3;

export function peopleLayers({ plan, section, units, standing, scale }: SectionLook): SectionLayer[] {
  if (!standing) return [];
  const { operator, at } = standing;
  const eye = { x: at, y: operator.eye };
  const views = viewsFrom(plan, section, operator, at);
  return [
    { name: "operator", marks: figureOf(at, operator.eye) },
    { name: "sight", marks: [...views.flatMap((view) => sightMarks(view, eye)), ...eyeMarks(eye)] },
    {
      name: "reach",
      marks: reachesFrom(plan, section, at).flatMap((reach) =>
        reachMarks(reach, section.decks, scale < FIGURED ? undefined : units),
      ),
    },
  ];
}

/** What is said of sight and reach; it lies over everything that is drawn. */
export function peopleNotes({ plan, section, units, standing }: SectionLook): SectionLayer[] {
  if (!standing) return [];
  const views = viewsFrom(plan, section, standing.operator, standing.at);
  const car = plan.standards.longestCar.value.height;
  return [{ name: "notes", marks: views.flatMap((view) => sightNote(view, standing, car, units)) }];
}

/** Neck, shoulders, chest and waist below the eyes, and half the breadth there, mm (common practice, no source). */
const OUTLINE: readonly (readonly [Millimetres, Millimetres])[] = [
  [105, 50],
  [165, 54],
  [195, 82],
  [225, 132],
  [290, 158],
  [400, 156],
  [540, 138],
  [640, 142],
];

/** Head and shoulders of someone whose eyes are there, no heavier than a pencil's; whether they sit is left open. */
function figureOf(at: Millimetres, eye: Millimetres): SectionMark[] {
  const [top, chin] = [eye + CROWN, eye - CHIN];
  const head = Array.from({ length: 25 }, (_, i) => {
    const angle = (i * Math.PI) / 12;
    return { x: at + HEAD * Math.sin(angle), y: (top + chin) / 2 + ((top - chin) / 2) * Math.cos(angle) };
  });
  const side = (way: 1 | -1) => smooth(OUTLINE.map(([down, half]) => ({ x: at + way * half, y: eye - down })));
  const waist = eye - (OUTLINE.at(-1)?.[0] ?? 0);
  return [
    line(side(-1), "strongRule", 0.9),
    line(side(1), "strongRule", 0.9),
    { ...line(head, "strongRule", 0.9), fill: "paper" },
    line(
      [
        { x: at, y: waist },
        { x: at, y: 0 },
      ],
      "strongRule",
      WEIGHT.dimension,
      DASH.centre,
    ),
  ];
}

/** Points between those given on the curve through them (Catmull & Rom, 1974). */
function smooth(points: readonly SectionPlace[]): SectionPlace[] {
  const at = (i: number): SectionPlace => points[Math.min(Math.max(i, 0), points.length - 1)] as SectionPlace;
  return points.flatMap((p, i) => {
    if (i === points.length - 1) return [p];
    const [a, b, c, d] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
    return [0, 0.25, 0.5, 0.75].map((t) => {
      const mix = (k: "x" | "y"): number =>
        b[k] +
        (t / 2) * (c[k] - a[k] + t * (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k] + t * (3 * (b[k] - c[k]) + d[k] - a[k])));
      return { x: mix("x"), y: mix("y") };
    });
  });
}

const eyeMarks = (eye: { readonly x: number; readonly y: number }): SectionMark[] => [
  { kind: "ring", at: eye, radius: 3.5, ink: "ink", weight: 1, fill: "paper" },
  { kind: "ring", at: eye, radius: 1, ink: "ink", weight: 1, fill: "ink" },
];

function sightMarks(
  { back, to, seen, hidden }: BackView,
  eye: { readonly x: number; readonly y: number },
): SectionMark[] {
  const way = back >= eye.x ? 1 : -1;
  const ends = [seen[0]?.from, hidden.length > 0 && (seen.at(-1)?.to ?? to) < to ? seen.at(-1)?.to : undefined];
  return [
    ...ends.flatMap((y) => (y === undefined ? [] : [line([eye, { x: back, y }], "ink2", 0.6)])),
    ...hidden
      .filter((one) => one.to - one.from >= NOTICED)
      .map((one) =>
        line(
          [one.from, one.to].map((y) => ({ x: back, y, right: -3 * way })),
          "tight",
          3,
        ),
      ),
  ];
}

function sightNote(
  { back, front, from, to, hidden }: BackView,
  { operator, at }: Standing,
  car: Millimetres,
  units: SectionLook["units"],
): SectionMark[] {
  const lost = hidden.filter((one) => one.to - one.from >= NOTICED);
  const [first] = lost;
  if (!first) return [];
  const way = back >= at ? 1 : -1;
  const below = operator.eye < from;
  const sum = lost.reduce((all, one) => all + one.to - one.from, 0);
  const text = below ? "above eye level" : sum >= to - from - NOTICED ? "hidden" : `${lengthText(sum, units)} hidden`;
  return [
    {
      kind: "text",
      at: below
        ? { x: front, y: from + car, right: 4 * way, down: -12 }
        : { x: back, y: (first.from + first.to) / 2, right: -9 * way },
      text,
      size: 12,
      ink: "tight",
      anchor: (way === 1) === below ? "start" : "end",
      halo: "paper",
    },
  ];
}

/** Drawn smaller than this, in px to the millimetre, arcs of reach go without their figures. */
const FIGURED = 0.11;
/** Reach is no finer than this, mm. */
const STEPS = { imperial: 6.35, metric: 5 } as const;
/** An arc of reach goes up so far from the level, radians. */
const RISE = Math.PI / 7;

function reachMarks(
  { deck, edge, way, height, reach, depth }: Reach,
  bodies: SectionLook["section"]["decks"],
  units: SectionLook["units"] | undefined,
): SectionMark[] {
  // Where the whole deck is within reach there is nothing to show.
  if (reach <= 0 || reach >= depth) return [];
  const above = bodies
    .filter((o) => o.deck !== deck && o.bottom > height && o.from <= edge + way * reach && o.to >= edge + way * reach)
    .reduce((low, o) => Math.min(low, o.bottom), Number.POSITIVE_INFINITY);
  const rise = Math.min(RISE, Math.asin(Math.min(1, Math.max(0, (above - height) / reach))));
  const arc = Array.from({ length: 13 }, (_, i) => {
    const angle = (i * rise) / 12;
    return { x: edge + way * reach * Math.cos(angle), y: height + reach * Math.sin(angle) };
  });
  const end = arc.at(-1) ?? { x: edge, y: height };
  const drawn = line(arc, "ink2", 0.8, [4, 2.5]);
  if (!units) return [drawn];
  return [
    drawn,
    {
      kind: "text",
      at: { ...end, right: -4 * way, down: 2 },
      text: `reach ${lengthText(Math.round(reach / STEPS[units]) * STEPS[units], units)}`,
      size: 12,
      ink: "ink3",
      anchor: way === 1 ? "end" : "start",
      halo: "paper",
    },
  ];
}
