/**
 * The room and what stands in it: walls, obstacles, and the benches, gates and backdrops of every deck.
 *
 * Always holds: what is derived from a previous space equals what is derived from nothing; a deck is computed anew only
 * when something on it changed (or the room's outline, or the option in hand, where they touch it); records of an option
 * that is not in hand are left out; a shape that cannot be is a finding, never a throw.
 */
import { type Area, uniteAreas } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Backdrop, Bench, Deck, Gate, Id, Plan } from "../plan/schema.js";
import { benchArea } from "./bench-shape.js";
import { outlineArea, type Shaped } from "./bench-shape-outline.js";
import type { Finding } from "./layout.js";
import { inOption } from "./options.js";
import { type RoomWalls, roomWalls } from "./room-walls.js";

export interface DeckSpace {
  /** Benches and gates of the deck, united. */
  readonly bench: Area;
  readonly byBench: ReadonlyMap<Id, Area>;
  readonly backdrops: readonly {
    readonly id: Id;
    readonly line: readonly Point[];
    readonly from: Millimetres;
    readonly to: Millimetres;
  }[];
}

export interface Space {
  readonly room: Area;
  readonly obstacles: readonly {
    readonly id: Id;
    readonly area: Area;
    readonly from: Millimetres;
    readonly to: Millimetres;
  }[];
  readonly decks: ReadonlyMap<Id, DeckSpace>;
}

export interface DerivedSpace {
  readonly space: Space;
  readonly findings: readonly Finding[];
  /** How many decks were computed anew. */
  readonly decks: number;
}

type ObstacleSpace = Space["obstacles"][number];

/** What stands on one deck, in the plan's order. */
interface OnDeck {
  readonly benches: (readonly [Id, Bench])[];
  readonly gates: (readonly [Id, Gate])[];
  readonly backdrops: (readonly [Id, Backdrop])[];
}

/** Findings that go with a part of a space, kept beside it so that they come back with it when it is taken over. */
const findingsOf = new WeakMap<object, readonly Finding[]>();

export function deriveSpace(plan: Plan, previous?: { readonly plan: Plan; readonly space: Space }): DerivedSpace {
  const findings: Finding[] = [];
  const anyDeck = Object.keys(plan.decks)[0] ?? "";
  const sameOutline = previous?.plan.room.outline === plan.room.outline;
  const room = (sameOutline && known(previous?.space.room)) || shaped("room", anyDeck, outlineArea(plan.room.outline));
  findings.push(...(findingsOf.get(room) ?? []));

  const obstacles = obstaclesOf(plan, previous, anyDeck);
  for (const obstacle of obstacles) findings.push(...(findingsOf.get(obstacle.area) ?? []));

  const members = membersByDeck(plan, findings);
  const before = previous && previous.plan !== plan ? membersByDeck(previous.plan, []) : members;
  let walls: RoomWalls | undefined;
  let anew = 0;
  const decks = new Map<Id, DeckSpace>();
  for (const [id, deck] of Object.entries(plan.decks)) {
    const on = members.get(id) ?? nothing();
    let space = known(previous?.space.decks.get(id));
    if (!space || previous?.plan.decks[id] !== deck || !sameMembers(on, before.get(id), sameOutline)) {
      walls ??= roomWalls(plan.room.outline, room);
      space = deckSpace(id, deck, on, walls, sameOutline ? { space, on: before.get(id) } : {});
      anew++;
    }
    decks.set(id, space);
    findings.push(...(findingsOf.get(space) ?? []));
  }
  return { space: { room, obstacles, decks }, findings, decks: anew };
}

/** A part of a previous space whose findings are known; one that came another way (copied, sent) is computed anew. */
const known = <T extends object>(part: T | undefined): T | undefined =>
  part && findingsOf.has(part) ? part : undefined;

/** The area of a shape, its trouble noted as a finding about the thing it belongs to. */
function shaped(thing: string, deck: Id, { area, trouble }: Shaped): Area {
  // A new array, so that no two things share one and with it their findings.
  const own = [...area];
  findingsOf.set(own, trouble ? [{ kind: "shape-invalid", thing, deck, ...trouble }] : []);
  return own;
}

function obstaclesOf(
  plan: Plan,
  previous: { readonly plan: Plan; readonly space: Space } | undefined,
  deck: Id,
): ObstacleSpace[] {
  const before = new Map(previous?.space.obstacles.map((o) => [o.id, o]));
  return Object.entries(plan.room.obstacles).map(([id, obstacle]) => {
    const sameOutline = previous?.plan.room.obstacles[id]?.outline === obstacle.outline;
    const area =
      (sameOutline && known(before.get(id)?.area)) ||
      shaped(`room.obstacles.${id}`, deck, outlineArea(obstacle.outline));
    return { id, area, from: obstacle.from ?? 0, to: obstacle.to ?? plan.room.ceiling };
  });
}

const nothing = (): OnDeck => ({ benches: [], gates: [], backdrops: [] });

function membersByDeck(plan: Plan, findings: Finding[]): Map<Id, OnDeck> {
  const result = new Map<Id, OnDeck>();
  const put = <K extends keyof OnDeck>(
    kind: K,
    record: Plan[K],
    point: (item: Plan[K][string]) => Point | undefined,
  ): void => {
    for (const [id, item] of Object.entries(record) as [Id, Plan[K][string]][]) {
      if (!inOption(plan, item)) continue;
      if (!Object.hasOwn(plan.decks, item.deck)) {
        const at = point(item) ?? { x: 0, y: 0 };
        findings.push({
          kind: "shape-invalid",
          thing: `${kind}.${id}`,
          deck: item.deck,
          point: at,
          note: "the plan has no such deck",
        });
        continue;
      }
      const on = result.get(item.deck) ?? nothing();
      result.set(item.deck, on);
      (on[kind] as (readonly [Id, Plan[K][string]])[]).push([id, item]);
    }
  };
  put("benches", plan.benches, ({ shape }) =>
    "outline" in shape ? shape.outline[0] : "disc" in shape ? shape.disc.centre : undefined,
  );
  put("gates", plan.gates, ({ outline }) => outline[0]);
  put("backdrops", plan.backdrops, ({ line }) => line[0]);
  return result;
}

/** Whether a deck's records are the very ones they were; a shelf is not when the walls it follows have moved. */
function sameMembers(on: OnDeck, before: OnDeck | undefined, sameWalls: boolean): boolean {
  const was = before ?? nothing();
  const same = <T>(a: readonly (readonly [Id, T])[], b: readonly (readonly [Id, T])[]): boolean =>
    a.length === b.length && a.every(([id, item], i) => b[i]?.[0] === id && b[i]?.[1] === item);
  return (
    same(on.benches, was.benches) &&
    same(on.gates, was.gates) &&
    same(on.backdrops, was.backdrops) &&
    (sameWalls || !on.benches.some(([, bench]) => "shelf" in bench.shape))
  );
}

interface Before {
  readonly space?: DeckSpace | undefined;
  readonly on?: OnDeck | undefined;
}

function deckSpace(id: Id, deck: Deck, on: OnDeck, walls: RoomWalls, before: Before): DeckSpace {
  const shapes = new Map(before.on?.benches.map(([benchId, bench]) => [benchId, bench.shape]));
  const byBench = new Map<Id, Area>();
  for (const [benchId, bench] of on.benches) {
    const unchanged = shapes.get(benchId) === bench.shape ? known(before.space?.byBench.get(benchId)) : undefined;
    byBench.set(benchId, unchanged ?? shaped(`benches.${benchId}`, id, benchArea(bench.shape, walls)));
  }
  const gates = on.gates.map(([gateId, gate]) => shaped(`gates.${gateId}`, id, outlineArea(gate.outline)));
  const parts: readonly Area[] = [...byBench.values(), ...gates];
  const space: DeckSpace = {
    bench: uniteAreas(...parts),
    byBench,
    backdrops: on.backdrops.map(([backdropId, { line, height }]) => ({
      id: backdropId,
      line,
      from: deck.height,
      to: deck.height + height,
    })),
  };
  findingsOf.set(
    space,
    parts.flatMap((part) => findingsOf.get(part) ?? []),
  );
  return space;
}
