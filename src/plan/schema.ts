/**
 * The plan file: what the owner decides, and nothing that follows from it. One schema; the types below and the
 * published JSON Schema are derived from it. Millimetres, degrees and percent; x to the right, y up the sheet,
 * headings anticlockwise from +x, left positive. Display units never enter the file.
 *
 * Properties this version does not know are kept (loose objects), so that a friend's newer file loses nothing here.
 * Every number, text and count is bounded, so that no file can exhaust the program that reads it.
 */
import * as z from "zod/mini";

export const FORMAT = "ruling-grade-plan";
export const VERSION = 1;

/** Bounds. The room of a large club hall fits many times over; a value beyond them is a slip of the keyboard. */
export const BOUNDS = {
  coordinate: 1_000_000,
  length: 1_000_000,
  height: 10_000,
  radius: 1_000_000,
  /** 100 turns of a helix. */
  angle: 36_000,
  text: 20_000,
  name: 200,
  id: 40,
  corners: 2_000,
  legs: 2_000,
  records: 50_000,
} as const;

/** Shapes told apart by the key that names them: exactly one may be there. Keys in the order of the union's shapes. */
export const ANCHOR_KEYS = ["pose", "turnout", "track", "beside", "turntable"] as const;
export const LEG_KEYS = ["straight", "curve", "toward", "join", "beside", "flex"] as const;
export const BENCH_SHAPE_KEYS = ["outline", "shelf", "disc"] as const;
const exactlyOne = (keys: readonly string[]) =>
  [
    (shape: object) => keys.filter((key) => Object.hasOwn(shape, key)).length === 1,
    `has more than one of ${keys.join(", ")}`,
  ] as const;

const finite = z.number();
const coordinate = finite.check(z.gte(-BOUNDS.coordinate), z.lte(BOUNDS.coordinate));
const length = finite.check(z.gte(0), z.lte(BOUNDS.length));
const positive = finite.check(z.gt(0), z.lte(BOUNDS.length));
const height = finite.check(z.gte(-BOUNDS.height), z.lte(BOUNDS.height));
const radius = finite.check(z.gt(0), z.lte(BOUNDS.radius));
const heading = finite.check(z.gte(-BOUNDS.angle), z.lte(BOUNDS.angle));
const name = z.string().check(z.maxLength(BOUNDS.name));
const text = z.string().check(z.maxLength(BOUNDS.text));

/** Ids are short and stable. What every object inherits (`constructor`, `toString`) is no id: looking it up would find something. */
export const idSchema = z.string().check(
  z.regex(/^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$/),
  z.refine((id) => !(id in Object.prototype) && id !== "prototype", "not usable as an id"),
);
export type Id = z.infer<typeof idSchema>;

export const pointSchema = z.looseObject({ x: coordinate, y: coordinate });
export const poseSchema = z.looseObject({ x: coordinate, y: coordinate, heading });

export const TRACK_CLASSES = ["main", "branch", "siding", "lead", "yard", "spur", "staging"] as const;
export const trackClassSchema = z.enum(TRACK_CLASSES);
export type TrackClass = z.infer<typeof trackClassSchema>;

/** A limit or setting with where it comes from; `reason` is the owner's, when they overrule it. */
const setting = <T extends z.ZodMiniType>(value: T) => z.looseObject({ value, source: text, reason: z.optional(text) });
export interface Setting<T> {
  readonly value: T;
  readonly source: string;
  readonly reason?: string | undefined;
}

export const carSchema = z.looseObject({
  /** Over the body ends; couplers are part of `overCouplers`. */
  length: positive,
  /** Between the bogie (truck) centres. */
  truckCentres: positive,
  width: positive,
  /** Top of the car above the railhead. */
  height: positive,
  /** Length a car takes in a train. */
  overCouplers: positive,
});

export const classLimitsSchema = z.looseObject({
  /** Least radius of the centre line, mm. */
  radius: setting(radius),
  /** Least length of an easement on a curve of the least radius, mm; 0 asks for none. */
  easement: setting(length),
  /** Steepest grade, percent. */
  grade: setting(finite.check(z.gte(0), z.lte(100))),
  /** Steepest grade with curve drag added, percent. */
  feltGrade: setting(finite.check(z.gte(0), z.lte(100))),
  /** Least straight between curves of opposite hand, mm, where they are not eased. */
  reverseStraight: setting(length),
  /** Least distance between centre lines on straight track, mm; curves add the throw of the longest car. */
  centres: setting(positive),
  /** Least frog number of turnouts on it. */
  turnout: z.optional(setting(finite.check(z.gte(2), z.lte(40)))),
});

/** Eyes of someone who runs trains, mm above the floor, standing or seated. */
export const operatorSchema = z.looseObject({ name, eye: positive });
/** How far one reaches in from the aisle over a deck of that height of railhead, mm. */
export const reachAtSchema = z.looseObject({ height, reach: positive });
const few = 50;

export const standardsSchema = z.looseObject({
  /** Whose figures the limits began with. */
  body: z.enum(["NMRA", "NEM", "own"]),
  longestCar: setting(carSchema),
  averageCar: setting(positive),
  /** Longest train, mm. */
  train: setting(positive),
  /** Limits by class; a class left out follows `main`. */
  classes: z.looseObject({
    main: classLimitsSchema,
    branch: z.optional(classLimitsSchema),
    siding: z.optional(classLimitsSchema),
    lead: z.optional(classLimitsSchema),
    yard: z.optional(classLimitsSchema),
    spur: z.optional(classLimitsSchema),
    staging: z.optional(classLimitsSchema),
  }),
  /** Least distance railhead to railhead of two scenic decks one above the other, mm. */
  deckSeparation: setting(positive),
  /** Least distance railhead to railhead of a staging deck and the deck above it, room for a hand, mm. */
  stagingSeparation: z.optional(setting(positive)),
  /** How much of the track centres the throw of cars on curves may use up before they must grow, mm; none where left out. */
  curveSlack: z.optional(setting(length)),
  /** Least clear height over a railhead up to whatever is above it, mm. */
  overTrack: setting(positive),
  /** Structure under the railhead of track that is carried on its own roadbed (a climb, a helix), mm. */
  trackStructure: setting(length),
  /** Width of that roadbed, mm. */
  roadbedWidth: setting(positive),
  /** Least length of vertical curve per percent of change of grade, mm. */
  verticalCurve: setting(length),
  /** Drag of a curve: percent of grade times mm of radius. */
  curveDrag: setting(length),
  /** Least distance of a centre line from the edge of a bench, mm. */
  benchEdge: setting(length),
  /** Least distance of a centre line from a wall, backdrop or obstacle, mm; curves add the throw of the longest car. */
  wall: setting(length),
  /** Within this many percent of its limit a reading is tight. */
  tight: setting(finite.check(z.gte(0), z.lte(50))),
  /** Least aisle, mm; for one at work in it; where two pass; where people work back to back and at the entrance. */
  aisle: z.optional(setting(length)),
  aisleWork: z.optional(setting(length)),
  aislePass: z.optional(setting(length)),
  aisleBackToBack: z.optional(setting(length)),
  /** Reach by height, lowest first; between two heights in proportion, beyond the last as there. */
  reach: z.optional(setting(z.array(reachAtSchema).check(z.minLength(1), z.maxLength(few)))),
  /** How much less one reaches under a deck or over something in front, mm. */
  reachUnder: z.optional(setting(length)),
  operators: z.optional(setting(z.array(operatorSchema).check(z.maxLength(few)))),
  /** An engine over its couplers, mm. */
  engine: z.optional(setting(positive)),
  /** Trains the owner plans to keep in staging. */
  trains: z.optional(setting(z.int().check(z.gte(0), z.lte(1000)))),
  /** Share of its length at which a yard still works, percent; and a spur. */
  yardWorks: z.optional(setting(finite.check(z.gt(0), z.lte(100)))),
  spurWorks: z.optional(setting(finite.check(z.gt(0), z.lte(100)))),
  /** Length of dead rail before an open gate that stops an engine, mm. */
  gateDead: z.optional(setting(length)),
});

export const OPENING_KINDS = ["door", "window", "passage"] as const;
export const openingSchema = z.looseObject({
  kind: z.enum(OPENING_KINDS),
  name: z.optional(name),
  /** Number of the wall it is in, from 0. */
  wall: z.int().check(z.gte(0), z.lte(BOUNDS.corners)),
  /** Distance from the wall's first corner to the near side. */
  at: length,
  width: positive,
  sill: z.optional(length),
  head: z.optional(positive),
  /** Where a door's leaf is hung and which way it opens. */
  swing: z.optional(z.looseObject({ hinge: z.enum(["near", "far"]), into: z.enum(["room", "outside"]) })),
});

export const obstacleSchema = z.looseObject({
  name: z.optional(name),
  outline: z.array(pointSchema).check(z.minLength(3), z.maxLength(BOUNDS.corners)),
  /** Bottom above the floor, mm; 0 where absent. */
  from: z.optional(length),
  /** Top above the floor, mm; up to the ceiling where absent. */
  to: z.optional(positive),
});

export const roomSchema = z.looseObject({
  /** Corners of the wall faces, anticlockwise; the last is joined to the first. Wall n runs from corner n to the next. */
  outline: z.array(pointSchema).check(z.minLength(3), z.maxLength(BOUNDS.corners)),
  ceiling: positive,
  openings: z.record(idSchema, openingSchema),
  obstacles: z.record(idSchema, obstacleSchema),
});

export const deckSchema = z.looseObject({
  name,
  kind: z.enum(["scenic", "staging"]),
  /** Railhead above the floor, mm. */
  height: finite.check(z.gte(0), z.lte(BOUNDS.height)),
  /** Structure below the railhead, mm. */
  thickness: finite.check(z.gte(0), z.lte(BOUNDS.height)),
});

const wallPlace = z.looseObject({ wall: z.int().check(z.gte(0), z.lte(BOUNDS.corners)), at: length });
export const benchShapeSchema = z
  .union([
    /** Any outline; a corner may be rounded with a radius. */
    z.looseObject({
      outline: z
        .array(z.looseObject({ x: coordinate, y: coordinate, round: z.optional(length) }))
        .check(z.minLength(3), z.maxLength(BOUNDS.corners)),
    }),
    /** A shelf of even depth along the walls from one place to another, anticlockwise round the room. */
    z.looseObject({
      shelf: z.looseObject({ from: wallPlace, to: wallPlace, depth: positive, round: z.optional(length) }),
    }),
    z.looseObject({ disc: z.looseObject({ centre: pointSchema, radius }) }),
  ])
  .check(z.refine(...exactlyOne(BENCH_SHAPE_KEYS)));

export const benchSchema = z.looseObject({
  name: z.optional(name),
  deck: idSchema,
  shape: benchShapeSchema,
  option: z.optional(idSchema),
});

export const backdropSchema = z.looseObject({
  name: z.optional(name),
  deck: idSchema,
  line: z.array(pointSchema).check(z.minLength(2), z.maxLength(BOUNDS.corners)),
  /** Height above the deck's railhead, mm. */
  height: positive,
  option: z.optional(idSchema),
});

export const gateSchema = z.looseObject({
  name: z.optional(name),
  deck: idSchema,
  kind: z.enum(["lift-out", "lift", "swing", "drop"]),
  outline: z.array(pointSchema).check(z.minLength(3), z.maxLength(BOUNDS.corners)),
  /** Corner a swing gate turns about; of a lift or drop gate the first corner of the side it folds on. */
  hinge: z.optional(z.int().check(z.gte(0), z.lte(BOUNDS.corners))),
  option: z.optional(idSchema),
});

const side = z.enum(["left", "right"]);
export type Side = z.infer<typeof side>;

/** A place beside another track, `spacing` to its left or right at distance `at`; `against` looks back along it. */
const besidePlace = z.looseObject({
  track: idSchema,
  at: length,
  side,
  spacing: positive,
  against: z.optional(z.boolean()),
});

export const anchorSchema = z
  .union([
    z.looseObject({ pose: poseSchema }),
    /** Where a turnout's diverging route ends; a wye has a left and a right one. */
    z.looseObject({ turnout: idSchema, route: z.optional(side) }),
    z.looseObject({ track: idSchema, end: z.enum(["start", "end"]) }),
    z.looseObject({ beside: besidePlace }),
    /** At the edge of a turntable's pit, leading away from it; stalls count from 0. */
    z.looseObject({ turntable: idSchema, stall: z.int().check(z.gte(0), z.lte(BOUNDS.legs)) }),
  ])
  .check(z.refine(...exactlyOne(ANCHOR_KEYS)));

/** Easement at both ends of a curve, mm, or at the way in and the way out; left out, the class's least easement. */
const easement = z.optional(z.union([length, z.looseObject({ in: length, out: length })]));

export const PATH_FAMILIES = ["LSL", "RSR", "LSR", "RSL", "LRL", "RLR"] as const;

export const legSchema = z
  .union([
    z.looseObject({ straight: positive }),
    z.looseObject({
      curve: z.looseObject({ radius, angle: finite.check(z.gt(0), z.lte(BOUNDS.angle)), hand: side, easement }),
    }),
    /** The eased curve whose tangent passes through the point, then straight to it. */
    z.looseObject({ toward: z.looseObject({ x: coordinate, y: coordinate, radius, easement: z.optional(length) }) }),
    /** The shortest eased way to an anchor; `family` asks for one shape of it. */
    z.looseObject({
      join: z.looseObject({
        to: anchorSchema,
        radius,
        easement: z.optional(length),
        straight: z.optional(length),
        family: z.optional(z.enum(PATH_FAMILIES)),
      }),
    }),
    /** Along another track, from one distance along it to another (backwards where `from` is the greater). */
    z.looseObject({
      beside: z.looseObject({
        track: idSchema,
        from: z.optional(length),
        to: z.optional(length),
        side,
        spacing: positive,
        /** Spacing on curves where it is wider. */
        curveSpacing: z.optional(positive),
      }),
    }),
    /** Hand-laid: a cubic Bezier curve; control points and end on the sheet. */
    z.looseObject({ flex: z.tuple([pointSchema, pointSchema, pointSchema]) }),
  ])
  .check(z.refine(...exactlyOne(LEG_KEYS)));

const span = z.looseObject({ from: length, to: length });

export const trackSchema = z.looseObject({
  name: z.optional(name),
  class: trackClassSchema,
  deck: idSchema,
  start: anchorSchema,
  legs: z.array(legSchema).check(z.maxLength(BOUNDS.legs)),
  /** Hidden from view: the whole track, or stretches by distance along it. */
  hidden: z.optional(z.union([z.boolean(), z.array(span).check(z.maxLength(BOUNDS.legs))])),
  /** Ends with a bumper on them. */
  bumpers: z.optional(z.array(z.enum(["start", "end"])).check(z.maxLength(2))),
  option: z.optional(idSchema),
});

export const turnoutSchema = z.looseObject({
  name: z.optional(name),
  /** The track it lies on; a wye lies at that track's end. */
  on: idSchema,
  /** Distance along the track to the points, mm. For a wye left out: it lies at the end. */
  at: z.optional(length),
  /** `with`: a train going the track's way meets the points. */
  facing: z.enum(["with", "against"]),
  /** The side the diverging route leaves to, seen from the points. */
  hand: z.enum(["left", "right", "wye"]),
  /** Frog number, from the standards' table; or a measured template of the plan. */
  number: z.optional(finite.check(z.gte(2), z.lte(40))),
  template: z.optional(idSchema),
  option: z.optional(idSchema),
});

/** Two tracks that cross and can be changed between: it lies where they cross nearest to `at` along `on`. */
export const slipSchema = z.looseObject({
  name: z.optional(name),
  on: idSchema,
  at: length,
  across: idSchema,
  kind: z.enum(["single", "double"]),
  /** Of a single slip: the side of `on` its curve lies on. */
  side: z.optional(side),
  option: z.optional(idSchema),
});

/** A turntable at the end of a track: its pit begins there, its centre lies half a bridge farther on. */
export const turntableSchema = z.looseObject({
  name: z.optional(name),
  on: idSchema,
  end: z.enum(["start", "end"]),
  /** Length of the bridge, mm; the pit is as wide. */
  bridge: positive,
  /** Directions of the stalls seen from the centre, degrees left from the way the approach leads on. */
  stalls: z.array(heading).check(z.maxLength(200)),
  option: z.optional(idSchema),
});

/** A turnout measured from the part in the owner's hand. */
export const templateSchema = z.looseObject({
  name,
  /** Overall length of the through route, mm. */
  length: positive,
  /** From the joint end before the points to the points. */
  points: length,
  /** Angle of the diverging end to the through route, degrees. */
  angle: finite.check(z.gt(0), z.lt(90)),
  /** Radius of the diverging curve, mm. */
  radius,
  /** Length of the diverging route from the points' joint end, mm; left out, as long as the through route. */
  diverging: z.optional(positive),
});

export const pinSchema = z
  .looseObject({
    track: idSchema,
    at: length,
    /** Railhead above the floor, mm; or the height of a deck. */
    height: z.optional(height),
    deck: z.optional(idSchema),
    option: z.optional(idSchema),
  })
  .check(z.refine((pin) => (pin.height === undefined) !== (pin.deck === undefined), "needs either height or deck"));

export const labelSchema = z.looseObject({
  text: name,
  deck: z.optional(idSchema),
  at: pointSchema,
  /** Reading direction, degrees from +x. */
  heading: z.optional(heading),
  option: z.optional(idSchema),
});

/** One of several ways to build a part of the layout: a climb, no peninsula. Records name the option they belong to; those that name none belong to all. */
export const optionSchema = z.looseObject({ name });

/** Readings the owner has looked at and lives with, and why. */
export const acceptedSchema = z.looseObject({ reason: text });

/** What was in a file and could not be used: kept whole, so that nothing is lost by opening and saving it. */
export const setAsideSchema = z.looseObject({
  /** Where it stood: `tracks.larkmoor-main`, `standards`. */
  record: z.string(),
  /** Within the record, where only a part of it was set aside. */
  property: z.optional(z.string()),
  reasons: z.array(z.string()),
  value: z.unknown(),
});
export interface SetAside {
  readonly record: string;
  readonly property?: string | undefined;
  readonly reasons: readonly string[];
  readonly value?: unknown;
}

const record = <T extends z.ZodMiniType>(item: T) => z.record(idSchema, item);

export const planSchema = z.looseObject({
  format: z.literal(FORMAT),
  version: z.literal(VERSION),
  title: name,
  notes: z.optional(text),
  units: z.enum(["imperial", "metric"]),
  scale: z.looseObject({ name, ratio: finite.check(z.gt(0), z.lte(1000)), gauge: finite.check(z.gt(0), z.lte(500)) }),
  standards: standardsSchema,
  room: roomSchema,
  decks: record(deckSchema),
  benches: record(benchSchema),
  backdrops: record(backdropSchema),
  gates: record(gateSchema),
  tracks: record(trackSchema),
  templates: record(templateSchema),
  turnouts: record(turnoutSchema),
  slips: record(slipSchema),
  turntables: record(turntableSchema),
  pins: record(pinSchema),
  labels: record(labelSchema),
  /** Key: reading id, or `id:scope`. */
  accepted: z.record(name, acceptedSchema),
  options: record(optionSchema),
  /** The option in hand; objects of the others are left out of the layout. */
  option: z.optional(idSchema),
  setAside: z.optional(z.array(setAsideSchema)),
});

/**
 * The schema's type without the door it leaves open for unknown properties, and read-only throughout: plans are never
 * changed in place, so identity tells whether a record changed.
 */
type Known<T> = T extends readonly unknown[]
  ? { readonly [K in keyof T]: Known<T[K]> }
  : T extends object
    ? { readonly [K in keyof T as string extends K ? (unknown extends T[K] ? never : K) : K]: Known<T[K]> }
    : T;

export type Plan = Omit<Known<z.infer<typeof planSchema>>, "setAside"> & {
  readonly setAside?: readonly SetAside[] | undefined;
};
export type Standards = Plan["standards"];
export type ClassLimits = Known<z.infer<typeof classLimitsSchema>>;
export type Operator = Known<z.infer<typeof operatorSchema>>;
export type ReachAt = Known<z.infer<typeof reachAtSchema>>;
export type Car = Known<z.infer<typeof carSchema>>;
export type Room = Plan["room"];
export type Opening = Room["openings"][string];
export type Obstacle = Room["obstacles"][string];
export type Deck = Known<z.infer<typeof deckSchema>>;
export type Bench = Known<z.infer<typeof benchSchema>>;
export type BenchShape = Known<z.infer<typeof benchShapeSchema>>;
export type Backdrop = Known<z.infer<typeof backdropSchema>>;
export type Gate = Known<z.infer<typeof gateSchema>>;
export type Anchor = Known<z.infer<typeof anchorSchema>>;
export type Leg = Known<z.infer<typeof legSchema>>;
export type Track = Known<z.infer<typeof trackSchema>>;
export type Turnout = Known<z.infer<typeof turnoutSchema>>;
export type Slip = Known<z.infer<typeof slipSchema>>;
export type Turntable = Known<z.infer<typeof turntableSchema>>;
export type Template = Known<z.infer<typeof templateSchema>>;
export type Pin = Known<z.infer<typeof pinSchema>>;
export type Label = Known<z.infer<typeof labelSchema>>;
export type Option = Known<z.infer<typeof optionSchema>>;

/** The plan's collections of records by id. */
export const COLLECTIONS = [
  "decks",
  "benches",
  "backdrops",
  "gates",
  "tracks",
  "templates",
  "turnouts",
  "slips",
  "turntables",
  "pins",
  "labels",
  "options",
] as const;
export type Collection = (typeof COLLECTIONS)[number];
