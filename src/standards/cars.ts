/**
 * The longest car a layout must pass, the average car trains are counted in, and how far a car on a curve hangs over.
 */
import type { Millimetres } from "../geometry/units.js";
import { type Cited, type Figure, inches, PRACTICE, roundTo } from "./cited.js";
import { lengthFor, type Scale, type ScaleName, type ScaleTable, standardScale } from "./scales.js";

export interface CarSize {
  /** Over the body ends. */
  readonly length: Millimetres;
  readonly truckCentres: Millimetres;
  readonly width: Millimetres;
  /** Above the railhead. */
  readonly height: Millimetres;
  readonly overCouplers: Millimetres;
}

/** Lengths over the couplers of HO cars by their nominal length in feet, mm. */
export const HO_CARS: Readonly<Record<40 | 50 | 60 | 85 | 89, Figure>> = {
  40: { value: inches(6), source: PRACTICE, known: "common practice", how: "40 ft car in HO, 6 in" },
  50: { value: inches(7.5), source: PRACTICE, known: "common practice", how: "50 ft car in HO, 7.5 in" },
  60: { value: inches(9), source: PRACTICE, known: "common practice", how: "60 ft car in HO, 9 in" },
  85: { value: inches(12), source: PRACTICE, known: "common practice", how: "85 ft car in HO, 12 in" },
  89: { value: inches(12.7), source: PRACTICE, known: "common practice", how: "89 ft car in HO, 12.7 in" },
};

/** Length over the couplers of a car of that nominal length in feet. */
export const overCouplers = (feet: keyof typeof HO_CARS, scale: Scale): Figure =>
  lengthFor(scale, { HO: HO_CARS[feet] }, "NMRA");

/** NEM 103 groups of vehicles; figures of the prototype in metres. */
export const NEM_GROUPS = {
  A: { body: 20, bogiePitch: 14 },
  B: { body: 24.2, bogiePitch: 17.2 },
  C: { body: 27.2, bogiePitch: 19.5 },
} as const;
export type NemGroup = keyof typeof NEM_GROUPS;

type ByScale = Readonly<Partial<Record<ScaleName, number>>>;

/** Longest body by group, mm. */
export const NEM_103_BODIES: Readonly<Record<NemGroup, ByScale>> = {
  A: { Z: 91, N: 125, TT: 167, HO: 230, S: 313, O: 460 },
  B: { Z: 110, N: 151, TT: 202, HO: 278, S: 378, O: 556 },
  C: { Z: 124, N: 170, TT: 227, HO: 313, S: 425, O: 625 },
};
export const NEM_103: Cited = { source: "NEM 103 (2016)", known: "read" };

/** Vehicle outline: full width B1 and height H4 above the railhead, mm. */
export const NEM_301_WIDTH: ByScale = { Z: 17, N: 23, TT: 30, HO: 40, S: 54, O: 78 };
export const NEM_301_HEIGHT: ByScale = { Z: 23, N: 32, TT: 42, HO: 57, S: 75, O: 106 };
export const NEM_301: Cited = { source: "NEM 301 (1979)", known: "read second hand" };

/** The rows of one cited table as figures. */
export const citedRows = (rows: ByScale, cited: Cited): ScaleTable =>
  Object.fromEntries(Object.entries(rows).map(([name, value]) => [name, { ...cited, value }]));

/** Truck centres over body length, where only the body is known. */
const TRUCKS_OVER_BODY = NEM_GROUPS.A.bogiePitch / NEM_GROUPS.A.body;
const FOOT = 304.8;
/** AAR plate C, feet; from memory. */
const PLATE_C = { width: 10 + 8 / 12, height: 15.5 };
/** What an 85 ft HO car of 12 in over the couplers is longer than its body. */
const HO_COUPLERS = inches(12) - (85 * FOOT) / 87.1;

/**
 * The longest car of the body's practice: an 85 ft car (NMRA, American practice) or one of NEM 103's group, C the
 * longest.
 */
export function longestCar(scale: Scale, group: NemGroup = "C"): Figure<CarSize> {
  return scale.body === "NMRA" ? americanCar(scale) : nemCar(scale, group);
}

function americanCar(scale: Scale): Figure<CarSize> {
  const feet = (length: number): Millimetres => roundTo((length * FOOT) / scale.ratio, 0.1);
  return {
    value: {
      length: feet(85),
      truckCentres: feet(85 * TRUCKS_OVER_BODY),
      width: feet(PLATE_C.width),
      height: feet(PLATE_C.height),
      overCouplers: overCouplers(85, scale).value,
    },
    source: PRACTICE,
    known: "derived",
    how:
      `85 ft car at 1:${scale.ratio}; over couplers 12 in in HO, scaled (common practice); truck centres 0.70 of the ` +
      "body as NEM 103 group A; width and height of AAR plate C, 10 ft 8 in by 15 ft 6 in (memory)",
  };
}

function nemCar(scale: Scale, group: NemGroup): Figure<CarSize> {
  const length = lengthFor(scale, citedRows(NEM_103_BODIES[group], NEM_103), "NEM");
  const width = lengthFor(scale, citedRows(NEM_301_WIDTH, NEM_301), "NEM");
  const height = lengthFor(scale, citedRows(NEM_301_HEIGHT, NEM_301), "NEM");
  const couplers = (HO_COUPLERS * 87.1) / scale.ratio;
  return {
    value: {
      length: length.value,
      truckCentres: roundTo((NEM_GROUPS[group].bogiePitch * 1000) / scale.ratio, 0.1),
      width: width.value,
      height: height.value,
      overCouplers: roundTo(length.value + couplers, 0.1),
    },
    source: `NEM 103 (2016) group ${group}; width and height NEM 301 (1979)`,
    known: "derived",
    how:
      `body ${length.known} in NEM 103, width B1 and height H4 ${width.known} in NEM 301, bogie pitch ` +
      `${NEM_GROUPS[group].bogiePitch} m at 1:${scale.ratio}, couplers as American practice in HO, scaled`,
  };
}

/** Cars of 40 ft in a foot of track, by scale. */
export const CARS_PER_FOOT: ByScale = { Z: 5, N: 4, HO: 2, S: 1.5, O: 1 };

/** The average car, over its couplers: a 40 ft car, counted in cars to the foot of track. */
export function averageCar(scale: Scale): Figure {
  const table = Object.fromEntries(
    Object.entries(CARS_PER_FOOT).map(([name, cars]): [string, Figure] => [
      name,
      {
        value: inches(12 / cars),
        source: PRACTICE,
        known: "common practice",
        how: `${cars} cars of 40 ft to the foot`,
      },
    ]),
  );
  return lengthFor(scale, table, "NMRA");
}

/** An engine, fourteen cars and a caboose, each as long as an average car. */
const TRAIN_CARS = 16;
export function longestTrain(scale: Scale): Figure {
  return {
    value: roundTo(TRAIN_CARS * averageCar(scale).value, 0.1),
    source: PRACTICE,
    known: "common practice",
    how: `${TRAIN_CARS} average cars, the engine among them; set it to your own longest train`,
  };
}

export interface CarThrow {
  /** How far the middle of the car's centre line lies inside the track's. */
  readonly inside: Millimetres;
  /** How far its ends lie outside. */
  readonly outside: Millimetres;
}

/**
 * Throw of a car whose truck centres stand on a circle of the radius, by the exact circle; for large radii b²/8R inside
 * and (B²-b²)/8R outside. None on straight track (radius infinite). Undefined where the trucks cannot stand on the
 * circle (truck centres over the diameter) or the radius is not above 0.
 */
export function carThrow(car: Pick<CarSize, "length" | "truckCentres">, radius: Millimetres): CarThrow | undefined {
  if (radius === Number.POSITIVE_INFINITY) return { inside: 0, outside: 0 };
  const half = car.truckCentres / 2;
  if (!(radius > 0) || half > radius) return undefined;
  const middle = Math.sqrt(radius * radius - half * half);
  return { inside: radius - middle, outside: Math.max(0, Math.hypot(middle, car.length / 2) - radius) };
}

/** The same length in HO's terms, for tables that practice keeps in HO. */
export const inHO = (length: Millimetres, scale: Scale): Millimetres =>
  (length * scale.ratio) / standardScale("HO", "NMRA").ratio;
