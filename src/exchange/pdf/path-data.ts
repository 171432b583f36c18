/**
 * Path data as a page's content: absolute M, L, C, Z and arcs of circles, which is what the drawings write. Arcs become
 * cubic curves of at most a quarter turn, which stray from the circle by 0.03 % of its radius (Goldapp, CAGD 8, 1991, from
 * memory).
 */
const TOKEN = /[MLCAZ]|-?\d+(?:\.\d+)?(?:e-?\d+)?/g;
const TAKES: Readonly<Record<string, number>> = { M: 2, L: 2, C: 6, A: 7, Z: 0 };

/** Figures of a page's content, to a ten-thousandth. */
export const pdfFigure = (value: number): string => (Math.round(value * 1e4) / 1e4 || 0).toString();

export function pathContent(data: string): string {
  let content = "";
  let command = "";
  let figures: number[] = [];
  let [x, y] = [0, 0];
  const write = (operator: string, ...values: readonly number[]): void => {
    content += `${values.map(pdfFigure).join(" ")} ${operator}\n`;
  };
  for (const [token] of data.matchAll(TOKEN)) {
    if (token in TAKES) {
      command = token;
      figures = [];
      if (command === "Z") content += "h\n";
      continue;
    }
    figures.push(Number(token));
    if (figures.length < (TAKES[command] ?? Number.POSITIVE_INFINITY)) continue;
    if (command === "A") {
      const [r = 0, , , large = 0, sweep = 0, toX = 0, toY = 0] = figures;
      for (const curve of arcCurves({ x, y }, { x: toX, y: toY }, r, large === 1, sweep === 1)) write("c", ...curve);
    } else write(command === "M" ? "m" : command === "L" ? "l" : "c", ...figures);
    [x, y] = figures.slice(-2) as [number, number];
    // Points that follow the first are lines, as SVG has it.
    if (command === "M") command = "L";
    figures = [];
  }
  return content;
}

interface At {
  readonly x: number;
  readonly y: number;
}

/** Centre and angles of an arc by its ends, as SVG 1.1 appendix F.6.5 has it, for circles. */
function arcCurves(from: At, to: At, radius: number, large: boolean, sweep: boolean): number[][] {
  const half = Math.hypot(to.x - from.x, to.y - from.y) / 2;
  if (half === 0) return [];
  const r = Math.max(radius, half);
  const rise = Math.sqrt(Math.max(0, r * r - half * half)) * (large === sweep ? -1 : 1);
  const [ux, uy] = [(to.x - from.x) / (2 * half), (to.y - from.y) / (2 * half)];
  const centre = { x: (from.x + to.x) / 2 - uy * rise, y: (from.y + to.y) / 2 + ux * rise };
  const first = Math.atan2(from.y - centre.y, from.x - centre.x);
  let turn = Math.atan2(to.y - centre.y, to.x - centre.x) - first;
  if (sweep && turn < 0) turn += 2 * Math.PI;
  if (!sweep && turn > 0) turn -= 2 * Math.PI;
  return arcAbout(centre, r, first, turn);
}

/** Cubic curves round a centre from an angle by a turn. */
function arcAbout(centre: At, r: number, first: number, turn: number): number[][] {
  const pieces = Math.max(1, Math.ceil(Math.abs(turn) / (Math.PI / 2) - 1e-9));
  const step = turn / pieces;
  const reach = (4 / 3) * Math.tan(step / 4) * r;
  return Array.from({ length: pieces }, (_, i) => {
    const [a, b] = [first + i * step, first + (i + 1) * step];
    const [sx, sy] = [centre.x + r * Math.cos(a), centre.y + r * Math.sin(a)];
    const [ex, ey] = [centre.x + r * Math.cos(b), centre.y + r * Math.sin(b)];
    const bend = [
      sx - reach * Math.sin(a),
      sy + reach * Math.cos(a),
      ex + reach * Math.sin(b),
      ey - reach * Math.cos(b),
    ];
    return [...bend, ex, ey];
  });
}

export function circleContent(centre: At, r: number): string {
  const curves = arcAbout(centre, r, 0, 2 * Math.PI).map((curve) => `${curve.map(pdfFigure).join(" ")} c\n`);
  return `${pdfFigure(centre.x + r)} ${pdfFigure(centre.y)} m\n${curves.join("")}h\n`;
}
