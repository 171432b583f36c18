/**
 * The plan file: what the owner decides, and nothing that follows from it. One schema; the types below and the
 * published JSON Schema are derived from it. Millimetres, degrees and percent; x to the right, y up the sheet,
 * headings anticlockwise from +x, left positive. Display units never enter the file.
 *
 * Properties this version does not know are kept (loose objects), so that a friend's newer file loses nothing here.
 * Every number, text and count is bounded, so that no file can exhaust the program that reads it.
 */
import { z } from "zod";

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
export const ANCHOR_KEYS = ["pose", "turnout", "track", "beside"] as const;
export const LEG_KEYS = ["straight", "curve", "toward", "join", "beside", "flex"] as const;
export const BENCH_SHAPE_KEYS = ["outline", "shelf", "disc"] as const;
const exactlyOne = (keys: readonly string[]) =>
  [
    (shape: object) => keys.filter((key) => Object.hasOwn(shape, key)).length === 1,
    `has more than one of ${keys.join(", ")}`,
  ] as const;

const finite = z.number();
const coordinate = finite.min(-BOUNDS.coordinate).max(BOUNDS.coordinate);
const length = finite.min(0).max(BOUNDS.length);
const positive = finite.gt(0).max(BOUNDS.length);
const height = finite.min(-BOUNDS.height).max(BOUNDS.height);
const radius = finite.gt(0).max(BOUNDS.radius);
const heading = finite.min(-BOUNDS.angle).max(BOUNDS.angle);
const name = z.string().max(BOUNDS.name);
const text = z.string().max(BOUNDS.text);

/** Ids are short and stable. What every object inherits (`constructor`, `toString`) is no id: looking it up would find something. */
export const idSchema = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$/)
  .refine((id) => !(id in Object.prototype) && id !== "prototype", "not usable as an id");
export type Id = z.infer<typeof idSchema>;

export const pointSchema = z.looseObject({ x: coordinate, y: coordinate });
export const poseSchema = z.looseObject({ x: coordinate, y: coordinate, heading });

export const TRACK_CLASSES = ["main", "branch", "siding", "lead", "yard", "spur", "staging"] as const;
export const trackClassSchema = z.enum(TRACK_CLASSES);
export type TrackClass = z.infer<typeof trackClassSchema>;

/** A limit or setting with where it comes from; `reason` is the owner's, when they overrule it. */
const setting = <T extends z.ZodType>(value: T) => z.looseObject({ value, source: text, reason: text.optional() });
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
  grade: setting(finite.min(0).max(100)),
  /** Steepest grade with curve drag added, percent. */
  feltGrade: setting(finite.min(0).max(100)),
  /** Least straight between curves of opposite hand, mm, where they are not eased. */
  reverseStraight: setting(length),
  /** Least distance between centre lines on straight track, mm; curves add the throw of the longest car. */
  centres: setting(positive),
});

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
    branch: classLimitsSchema.optional(),
    siding: classLimitsSchema.optional(),
    lead: classLimitsSchema.optional(),
    yard: classLimitsSchema.optional(),
    spur: classLimitsSchema.optional(),
    staging: classLimitsSchema.optional(),
  }),
  /** Least distance railhead to railhead of two scenic decks one above the other, mm. */
  deckSeparation: setting(positive),
  /** Least distance railhead to railhead of a staging deck and the deck above it, room for a hand, mm. */
  stagingSeparation: setting(positive).optional(),
  /** How much of the track centres the throw of cars on curves may use up before they must grow, mm; none where left out. */
  curveSlack: setting(length).optional(),
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
  tight: setting(finite.min(0).max(50)),
  /** Least aisle, mm. */
  aisle: setting(length).optional(),
});

export const OPENING_KINDS = ["door", "window", "passage"] as const;
export const openingSchema = z.looseObject({
  kind: z.enum(OPENING_KINDS),
  name: name.optional(),
  /** Number of the wall it is in, from 0. */
  wall: z.int().min(0).max(BOUNDS.corners),
  /** Distance from the wall's first corner to the near side. */
  at: length,
  width: positive,
  sill: length.optional(),
  head: positive.optional(),
  /** Where a door's leaf is hung and which way it opens. */
  swing: z.looseObject({ hinge: z.enum(["near", "far"]), into: z.enum(["room", "outside"]) }).optional(),
});

export const obstacleSchema = z.looseObject({
  name: name.optional(),
  outline: z.array(pointSchema).min(3).max(BOUNDS.corners),
  /** Bottom above the floor, mm; 0 where absent. */
  from: length.optional(),
  /** Top above the floor, mm; up to the ceiling where absent. */
  to: positive.optional(),
});

export const roomSchema = z.looseObject({
  /** Corners of the wall faces, anticlockwise; the last is joined to the first. Wall n runs from corner n to the next. */
  outline: z.array(pointSchema).min(3).max(BOUNDS.corners),
  ceiling: positive,
  openings: z.record(idSchema, openingSchema),
  obstacles: z.record(idSchema, obstacleSchema),
});

export const deckSchema = z.looseObject({
  name,
  kind: z.enum(["scenic", "staging"]),
  /** Railhead above the floor, mm. */
  height: finite.min(0).max(BOUNDS.height),
  /** Structure below the railhead, mm. */
  thickness: finite.min(0).max(BOUNDS.height),
});

const wallPlace = z.looseObject({ wall: z.int().min(0).max(BOUNDS.corners), at: length });
export const benchShapeSchema = z
  .union([
    /** Any outline; a corner may be rounded with a radius. */
    z.looseObject({
      outline: z
        .array(z.looseObject({ x: coordinate, y: coordinate, round: length.optional() }))
        .min(3)
        .max(BOUNDS.corners),
    }),
    /** A shelf of even depth along the walls from one place to another, anticlockwise round the room. */
    z.looseObject({
      shelf: z.looseObject({ from: wallPlace, to: wallPlace, depth: positive, round: length.optional() }),
    }),
    z.looseObject({ disc: z.looseObject({ centre: pointSchema, radius }) }),
  ])
  .refine(...exactlyOne(BENCH_SHAPE_KEYS));

export const benchSchema = z.looseObject({
  name: name.optional(),
  deck: idSchema,
  shape: benchShapeSchema,
  option: idSchema.optional(),
});

export const backdropSchema = z.looseObject({
  name: name.optional(),
  deck: idSchema,
  line: z.array(pointSchema).min(2).max(BOUNDS.corners),
  /** Height above the deck's railhead, mm. */
  height: positive,
  option: idSchema.optional(),
});

export const gateSchema = z.looseObject({
  name: name.optional(),
  deck: idSchema,
  kind: z.enum(["lift-out", "lift", "swing", "drop"]),
  outline: z.array(pointSchema).min(3).max(BOUNDS.corners),
  option: idSchema.optional(),
});

const side = z.enum(["left", "right"]);
export type Side = z.infer<typeof side>;

/** A place beside another track, `spacing` to its left or right at distance `at`; `against` looks back along it. */
const besidePlace = z.looseObject({
  track: idSchema,
  at: length,
  side,
  spacing: positive,
  against: z.boolean().optional(),
});

export const anchorSchema = z
  .union([
    z.looseObject({ pose: poseSchema }),
    /** Where a turnout's diverging route ends; a wye has a left and a right one. */
    z.looseObject({ turnout: idSchema, route: side.optional() }),
    z.looseObject({ track: idSchema, end: z.enum(["start", "end"]) }),
    z.looseObject({ beside: besidePlace }),
  ])
  .refine(...exactlyOne(ANCHOR_KEYS));

/** Easement at both ends of a curve, mm, or at the way in and the way out; left out, the class's least easement. */
const easement = z.union([length, z.looseObject({ in: length, out: length })]).optional();

export const PATH_FAMILIES = ["LSL", "RSR", "LSR", "RSL", "LRL", "RLR"] as const;

export const legSchema = z
  .union([
    z.looseObject({ straight: positive }),
    z.looseObject({ curve: z.looseObject({ radius, angle: finite.gt(0).max(BOUNDS.angle), hand: side, easement }) }),
    /** The eased curve whose tangent passes through the point, then straight to it. */
    z.looseObject({ toward: z.looseObject({ x: coordinate, y: coordinate, radius, easement: length.optional() }) }),
    /** The shortest eased way to an anchor; `family` asks for one shape of it. */
    z.looseObject({
      join: z.looseObject({
        to: anchorSchema,
        radius,
        easement: length.optional(),
        straight: length.optional(),
        family: z.enum(PATH_FAMILIES).optional(),
      }),
    }),
    /** Along another track, from one distance along it to another (backwards where `from` is the greater). */
    z.looseObject({
      beside: z.looseObject({
        track: idSchema,
        from: length.optional(),
        to: length.optional(),
        side,
        spacing: positive,
        /** Spacing on curves where it is wider. */
        curveSpacing: positive.optional(),
      }),
    }),
    /** Hand-laid: a cubic Bezier curve; control points and end on the sheet. */
    z.looseObject({ flex: z.tuple([pointSchema, pointSchema, pointSchema]) }),
  ])
  .refine(...exactlyOne(LEG_KEYS));

const span = z.looseObject({ from: length, to: length });

export const trackSchema = z.looseObject({
  name: name.optional(),
  class: trackClassSchema,
  deck: idSchema,
  start: anchorSchema,
  legs: z.array(legSchema).max(BOUNDS.legs),
  /** Hidden from view: the whole track, or stretches by distance along it. */
  hidden: z.union([z.boolean(), z.array(span).max(BOUNDS.legs)]).optional(),
  option: idSchema.optional(),
});

export const turnoutSchema = z.looseObject({
  name: name.optional(),
  /** The track it lies on; a wye lies at that track's end. */
  on: idSchema,
  /** Distance along the track to the points, mm. For a wye left out: it lies at the end. */
  at: length.optional(),
  /** `with`: a train going the track's way meets the points. */
  facing: z.enum(["with", "against"]),
  /** The side the diverging route leaves to, seen from the points. */
  hand: z.enum(["left", "right", "wye"]),
  /** Frog number, from the standards' table; or a measured template of the plan. */
  number: finite.min(2).max(40).optional(),
  template: idSchema.optional(),
  option: idSchema.optional(),
});

/** A turnout measured from the part in the owner's hand. */
export const templateSchema = z.looseObject({
  name,
  /** Overall length of the through route, mm. */
  length: positive,
  /** From the joint end before the points to the points. */
  points: length,
  /** Angle of the diverging end to the through route, degrees. */
  angle: finite.gt(0).lt(90),
  /** Radius of the diverging curve, mm. */
  radius,
  /** Length of the diverging route from the points' joint end, mm; left out, as long as the through route. */
  diverging: positive.optional(),
});

export const pinSchema = z
  .looseObject({
    track: idSchema,
    at: length,
    /** Railhead above the floor, mm; or the height of a deck. */
    height: height.optional(),
    deck: idSchema.optional(),
    option: idSchema.optional(),
  })
  .refine((pin) => (pin.height === undefined) !== (pin.deck === undefined), "needs either height or deck");

export const labelSchema = z.looseObject({
  text: name,
  deck: idSchema.optional(),
  at: pointSchema,
  /** Reading direction, degrees from +x. */
  heading: heading.optional(),
});

export const optionSchema = z.looseObject({ name });

/** Readings the owner has looked at and lives with, and why. */
export const acceptedSchema = z.looseObject({ reason: text });

/** What was in a file and could not be used: kept whole, so that nothing is lost by opening and saving it. */
export const setAsideSchema = z.looseObject({
  /** Where it stood: `tracks.larkmoor-main`, `standards`. */
  record: z.string(),
  /** Within the record, where only a part of it was set aside. */
  property: z.string().optional(),
  reasons: z.array(z.string()),
  value: z.unknown(),
});
export interface SetAside {
  readonly record: string;
  readonly property?: string | undefined;
  readonly reasons: readonly string[];
  readonly value?: unknown;
}

const record = <T extends z.ZodType>(item: T) => z.record(idSchema, item);

export const planSchema = z.looseObject({
  format: z.literal(FORMAT),
  version: z.literal(VERSION),
  title: name,
  notes: text.optional(),
  units: z.enum(["imperial", "metric"]),
  scale: z.looseObject({ name, ratio: finite.gt(0).max(1000), gauge: finite.gt(0).max(500) }),
  standards: standardsSchema,
  room: roomSchema,
  decks: record(deckSchema),
  benches: record(benchSchema),
  backdrops: record(backdropSchema),
  gates: record(gateSchema),
  tracks: record(trackSchema),
  templates: record(templateSchema),
  turnouts: record(turnoutSchema),
  pins: record(pinSchema),
  labels: record(labelSchema),
  /** Key: reading id, or `id:scope`. */
  accepted: z.record(name, acceptedSchema),
  options: record(optionSchema),
  /** The option in hand; objects of the others are left out of the layout. */
  option: idSchema.optional(),
  setAside: z.array(setAsideSchema).optional(),
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
  "pins",
  "labels",
  "options",
] as const;
export type Collection = (typeof COLLECTIONS)[number];
