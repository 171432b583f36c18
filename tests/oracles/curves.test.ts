/**
 * Curves and spirals against worked examples and tables of railway and highway engineering. The figures, their sources
 * and how each is known are in data/curves.json; feet unless said otherwise. What is computed here in surveyors' terms
 * (degree of curve, tangent distance, stations) rests on the core's own paths.
 */
import { describe, expect, it } from "vitest";
import { makePath, type Path, poseAt, stationsBySagitta } from "../../src/geometry/path.js";
import { bearing, distance, localPoint, offsetPoint } from "../../src/geometry/pose.js";
import { segmentPose, segmentTurn } from "../../src/geometry/segment.js";
import { easedTurn, turnExtent } from "../../src/geometry/turn.js";
import { toDegrees, toRadians } from "../../src/geometry/units.js";
import curves from "./data/curves.json" with { type: "json" };

const ORIGIN = { x: 0, y: 0, heading: 0 };

/** "23d20m00s", "8d20m", "2d16.2m" in degrees. */
function degrees(text: string): number {
  const [, d = "0", m = "0", s = "0"] = /^(\d+)d(?:([\d.]+)m)?(?:([\d.]+)s)?/.exec(text) ?? [];
  return Number(d) + Number(m) / 60 + Number(s) / 3600;
}

/** "541+53.53" in feet. */
function station(text: string): number {
  const [hundreds = "0", feet = "0"] = text.split("+");
  return Number(hundreds) * 100 + Number(feet);
}

/** Railway practice: a chord of 100 ft turns by the degree of curve. */
const radiusByChord = (degree: number): number => 50 / Math.sin(toRadians(degree) / 2);

const turnPath = (radius: number, angle: number, easement = 0): Path =>
  makePath(ORIGIN, easedTurn({ radius, angle, hand: "left", easeIn: easement, easeOut: easement }));

/** From where the curve begins to where the straights before and after it meet. */
const tangentDistance = ({ end }: Path): number => end.x - end.y / Math.tan(end.heading);

/** From there to the middle of the curve. */
function externalDistance(path: Path): number {
  return distance({ x: tangentDistance(path), y: 0 }, poseAt(path, path.length / 2));
}

/** Angle between the tangent at the beginning and the chord to the place after so many chords of 100 ft. */
const deflectionAfter = (path: Path, radius: number, degree: number, chords: number): number =>
  toDegrees(bearing(ORIGIN, poseAt(path, radius * toRadians(degree) * chords)));

describe("circular curves", () => {
  it(`H1: ${curves.H1.cite}`, () => {
    const { given, published, tolerance } = curves.H1;
    const degree = given.D_chord_deg;
    const radius = radiusByChord(degree);
    const path = turnPath(radius, toRadians(degrees(given.delta)));
    const tangent = tangentDistance(path);
    expect(Math.abs(tangent - published.T)).toBeLessThan(tolerance);
    // "About 12", from a table of whole feet and tenths.
    expect(Math.abs(externalDistance(path) - 12)).toBeLessThan(0.2);
    const chords = toDegrees(segmentTurn(path.segments[0] ?? { length: 0, k0: 0, k1: 0 })) / degree;
    expect(chords).toBeCloseTo(published.LC_stations, 4);
    const begin = station(given.PI) - tangent;
    expect(Math.abs(begin - station(published.BC))).toBeLessThan(tolerance);
    expect(Math.abs(begin + 100 * chords - station(published.EC))).toBeLessThan(tolerance);
    // Field deflections, read to half a minute.
    const field = [
      [(54_200 - begin) / 100, published.deflection_542],
      [(54_250 - begin) / 100, published.deflection_542_50],
      [(54_300 - begin) / 100, published.deflection_543],
      [chords, published.deflection_EC],
    ] as const;
    for (const [after, printed] of field) {
      expect(Math.abs(deflectionAfter(path, radius, degree, after) - degrees(printed))).toBeLessThan(0.5 / 60);
    }
  });

  it(`H2: ${curves.H2.cite}`, () => {
    const { given, published, tolerance } = curves.H2;
    const degree = degrees(given.D_chord_deg);
    // The scan's radius is doubtful; the formula's stands for it.
    const radius = radiusByChord(degree);
    const path = turnPath(radius, toRadians(degrees(given.delta)));
    expect(Math.abs(tangentDistance(path) - published.T)).toBeLessThan(tolerance);
    const chords = toDegrees(path.end.heading) / degree;
    expect(100 * chords).toBeCloseTo(published.L_100ft_chords, 6);
    const begin = station(given.PI) - tangentDistance(path);
    expect(Math.abs(begin - station(published.PC))).toBeLessThan(tolerance);
    expect(Math.abs(begin + 100 * chords - station(published.PT))).toBeLessThan(tolerance);
    const chord = 15_800 - station(published.PC);
    const place = poseAt(path, 2 * radius * Math.asin(chord / (2 * radius)));
    expect(Math.abs(place.y - published.tangent_offset_sta158)).toBeLessThan(tolerance);
    const minute = 1 / 60;
    expect(
      Math.abs(deflectionAfter(path, radius, degree, chord / 100) - degrees(published.deflection_sta158)),
    ).toBeLessThan(0.1 * minute);
    expect(
      Math.abs(deflectionAfter(path, radius, degree, chord / 100 + 1) - degrees(published.deflection_sta159)),
    ).toBeLessThan(0.1 * minute);
  });

  it(`H5: ${curves.H5.cite}`, () => {
    const { given, published, tolerance } = curves.H5;
    const path = turnPath(given.R, given.S_arc / given.R);
    const chord = { ...ORIGIN, heading: bearing(ORIGIN, path.end) };
    const ordinate = Math.abs(localPoint(chord, poseAt(path, path.length / 2)).y);
    expect(Math.abs(ordinate - published.M)).toBeLessThan(tolerance);
  });

  it.each(Object.entries(curves.H6.published))(`H6: %s is %s ft (${curves.H6.cite})`, (label, radius) => {
    const degree = Number.parseFloat(label);
    const path = turnPath(radius, toRadians(degree));
    // Half of the last digit printed, in the radius.
    const rounding = Number.isInteger(radius) ? 0.5 : 0.005;
    expect(Math.abs(distance(ORIGIN, path.end) - 100)).toBeLessThan(
      rounding * 2 * Math.sin(toRadians(degree) / 2) + 1e-3,
    );
  });

  it.each(Object.entries(curves.H7.published))(`H7: about %s degrees at %s ft (${curves.H7.cite})`, (label, radius) => {
    const degree = label.includes("/") ? 1 / Number(label.split("/")[1]) : Number(label);
    // The rule takes 5730 for 5729.58, figures are cut, and at 10 degrees the table goes over to chords.
    expect(Math.abs(toDegrees(turnPath(radius, 100 / radius).end.heading) / degree - 1)).toBeLessThan(1.5e-3);
  });

  it(`H8: ${curves.H8.cite}`, () => {
    const { given, published, tolerance } = curves.H8;
    const path = turnPath(given.R, given.L_ft / given.R);
    const stations = stationsBySagitta(path, 1e-4);
    const rail = (left: number): number =>
      stations.slice(1).reduce((length, to, i) => {
        const from = stations[i] ?? 0;
        return length + distance(offsetPoint(poseAt(path, from), 0, left), offsetPoint(poseAt(path, to), 0, left));
      }, 0);
    const difference = rail(-given.rail_centres_ft / 2) - rail(given.rail_centres_ft / 2);
    expect(Math.abs(difference - published.rule2_ft)).toBeLessThan(tolerance);
    // The other rule is a round one, of 1 1/32 in per degree and 100 ft; it gives 1 % more.
    expect(Math.abs(difference * 12 - published.rule1_in) / published.rule1_in).toBeLessThan(0.012);
  });

  it.each([1, 2, 3, 5, 8, 10])(`O6: %s degrees by a 62 ft string (${curves.O6.cite})`, (degree) => {
    const radius = radiusByChord(degree);
    const path = turnPath(radius, 2 * Math.asin(31 / radius));
    expect(distance(ORIGIN, path.end)).toBeCloseTo(62, 9);
    const chord = { ...ORIGIN, heading: bearing(ORIGIN, path.end) };
    const inches = 12 * Math.abs(localPoint(chord, poseAt(path, path.length / 2)).y);
    expect(Math.abs(inches / degree - 1)).toBeLessThan(0.01);
  });
});

describe("spirals", () => {
  it(`S1: ${curves.S1.cite}`, () => {
    const { given, published, tolerance } = curves.S1;
    const { R, Ls } = given;
    const delta = toRadians(degrees(given.delta));
    const path = turnPath(R, delta, Ls);
    const [spiral, arc] = path.segments;
    if (!spiral || !arc) throw new Error("no spiral");
    const end = segmentPose(spiral, Ls);
    const { shift, advance } = turnExtent(R, Ls);
    const ours = {
      Ts: tangentDistance(path),
      Es: externalDistance(path),
      Lc: arc.length,
      LT: end.x - end.y / Math.tan(end.heading),
      ST: end.y / Math.sin(end.heading),
      p: shift,
      k: advance,
      Xc: end.x,
      Yc: end.y,
      LC: Math.hypot(end.x, end.y),
    };
    const differing = Object.entries(ours).filter(
      ([name, value]) => !(Math.abs(value - published[name as keyof typeof ours]) < tolerance),
    );
    expect(differing).toEqual([]);
    const second = 1 / 3600;
    expect(Math.abs(toDegrees(end.heading) - degrees(published.theta_s))).toBeLessThan(0.1 * second);
    expect(Math.abs(toDegrees(segmentTurn(arc)) - degrees(published.delta_c))).toBeLessThan(0.1 * second);
  });

  it(`S3: ${curves.S3.cite}`, () => {
    const { given, published, tolerance } = curves.S3;
    const path = turnPath(radiusByChord(given.D_chord_deg), toRadians(degrees(given.delta)), given.Ls);
    const intersection = station("234+32.54") + 1532.79;
    const begin = intersection - tangentDistance(path);
    const borders = path.stations.map((s) => begin + s);
    const [ts = 0, sc = 0, cs = 0, st = 0] = borders;
    // The curve's length was rounded from a table there, so only what comes before it is exact.
    expect(Math.abs(ts - station(published.TS))).toBeLessThan(0.005);
    expect(Math.abs(sc - station(published.SC))).toBeLessThan(0.005);
    expect(Math.abs(cs - station(published.CS))).toBeLessThan(tolerance);
    expect(Math.abs(st - station(published.ST))).toBeLessThan(tolerance);
  });

  it.each([
    [2, 150],
    [5, 250],
    [8, 400],
    [12, 500],
  ])(`S6: series at %s degrees, %s ft (${curves.S6.cite})`, (theta, length) => {
    const radius = length / (2 * toRadians(theta));
    const path = turnPath(radius, toRadians(60), length);
    const end = segmentPose({ length, k0: 0, k1: 1 / radius }, length);
    const { shift, advance } = turnExtent(radius, length);
    const A = (20_000 * theta) / length ** 2;
    const Xc = (length / 100) * (100 - 0.0030462 * theta ** 2);
    const Yc = (length / 100) * (0.58178 * theta - 0.000012659 * theta ** 3);
    const p = Yc - radius * (1 - Math.cos(toRadians(theta)));
    const k = length / 2 - 0.000127 * A ** 2 * (length / 100) ** 5;
    const half = toRadians(30);
    const rows = [
      ["theta", toDegrees(end.heading), theta],
      ["Xc", end.x, Xc],
      ["Yc", end.y, Yc],
      ["p", shift, p],
      ["k", advance, k],
      ["Ts", tangentDistance(path), (radius + p) * Math.tan(half) + k],
      ["Es", externalDistance(path), (radius + p) * (1 / Math.cos(half) - 1) + p],
      ["LC", Math.hypot(end.x, end.y), length - 0.00034 * A ** 2 * (length / 100) ** 5],
      [
        "Dc_angle",
        toDegrees(segmentTurn(path.segments[1] ?? path.segments[0] ?? { length: 0, k0: 0, k1: 0 })),
        60 - 2 * theta,
      ],
    ] as const;
    // The constants are printed to five figures or fewer.
    expect(rows.filter(([, ours, series]) => !(Math.abs(ours - series) < 5e-5 * length))).toEqual([]);
  });
});

describe("the hobby's easement rule (common practice, no source)", () => {
  it.each([
    [18, 12, 0.375],
    [24, 16, 0.4375],
    [30, 18, 0.5],
    [42, 25, 0.625],
  ])("radius %s in, easement %s in: the curve moves in by L^2/(24 R), about %s in", (radius, easement, offset) => {
    const { shift } = turnExtent(radius, easement);
    const rule = easement ** 2 / (24 * radius);
    // The rule is the first term of a series; the next is (L/R)^2/112 of it.
    expect(Math.abs(shift / rule - 1)).toBeLessThan((easement / radius) ** 2 / 100);
    // Handbook offsets are rounded to sixteenths.
    expect(Math.abs(shift - offset)).toBeLessThan(1 / 16);
  });

  it("half of the easement lies on either side of the tangent point", () => {
    expect(turnExtent(30, 18).advance / 18).toBeCloseTo(0.5, 2);
  });
});
