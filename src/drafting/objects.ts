/**
 * The plan's objects in words: what stands in for the drawing where it cannot be seen, and the order in which the
 * keyboard goes through them.
 *
 * Always holds: every record with a place on the sheet, every wall's opening and every obstacle is told once, deck by
 * deck from below, track before what lies on it.
 */
import type { Layout } from "../layout/layout.js";
import type { LineKey } from "../layout/line.js";
import { recordsInHand } from "../layout/options.js";
import type { Anchor, Collection, Id, Plan } from "../plan/schema.js";
import { decksInOrder } from "./decks.js";
import { lengthText } from "./figures.js";
import { frogText } from "./label-turnouts.js";
import type { Thing } from "./thing.js";

export interface PlanObject {
  readonly thing: Thing;
  readonly deck: Id | undefined;
  /** What it is and what it is called: `main Outer main`. */
  readonly name: string;
  /** Its figures and what it is joined to. */
  readonly facts: string;
}

const known = new WeakMap<Layout, Map<Plan["units"], readonly PlanObject[]>>();

export function objectsOf(layout: Layout, units: Plan["units"]): readonly PlanObject[] {
  let byUnits = known.get(layout);
  if (!byUnits) known.set(layout, (byUnits = new Map()));
  let objects = byUnits.get(units);
  if (!objects) {
    objects = [
      ...decksInOrder(layout.plan).flatMap((deck) => [...onDeck(layout, deck, units)]),
      ...ofRoom(layout, units),
    ];
    byUnits.set(units, objects);
  }
  return objects;
}

const record = (collection: Collection, id: Id): Thing => ({ kind: "record", collection, id });

const called = (what: string, name: string | undefined): string => (name ? `${what} ${name}` : what);

function* onDeck(layout: Layout, deck: Id, units: Plan["units"]): Generator<PlanObject> {
  const { plan } = layout;
  const deckName = plan.decks[deck]?.name ?? deck;
  const length = (mm: number): string => lengthText(mm, units);
  for (const [id, track] of recordsInHand(plan, plan.tracks)) {
    if (track.deck !== deck) continue;
    const line = layout.lines.get(`track:${id}`);
    const facts = line
      ? `${length(line.path.length)}, from ${anchorText(plan, track.start)}${endText(layout, `track:${id}`)}`
      : "cannot be laid";
    yield { thing: record("tracks", id), deck, name: called(track.class, track.name ?? id), facts };
  }
  for (const [id, turnout] of recordsInHand(plan, plan.turnouts)) {
    const host = plan.tracks[turnout.on];
    if (host?.deck !== deck) continue;
    const placed = layout.turnouts.get(id);
    const on = `on ${host.name ?? turnout.on}`;
    const facts = placed ? `${frogText(placed)}, ${on} at ${length(placed.at)}` : `${on}, not placed`;
    yield { thing: record("turnouts", id), deck, name: called("turnout", turnout.name ?? id), facts };
  }
  for (const [id, slip] of recordsInHand(plan, plan.slips)) {
    const on = plan.tracks[slip.on];
    if (on?.deck !== deck) continue;
    const placed = layout.slips.get(id);
    const between = `between ${on.name ?? slip.on} and ${plan.tracks[slip.across]?.name ?? slip.across}`;
    const facts = placed ? `No. ${placed.number.toFixed(1)}, ${between}` : `${between}, not placed`;
    yield { thing: record("slips", id), deck, name: called(`${slip.kind} slip`, slip.name ?? id), facts };
  }
  for (const [id, turntable] of recordsInHand(plan, plan.turntables)) {
    const on = plan.tracks[turntable.on];
    if (on?.deck !== deck) continue;
    const count = turntable.stalls.length;
    const stalls = `${count} ${count === 1 ? "stall" : "stalls"}`;
    const facts = `bridge ${length(turntable.bridge)}, ${stalls}, at the ${turntable.end} of ${on.name ?? turntable.on}`;
    yield { thing: record("turntables", id), deck, name: called("turntable", turntable.name ?? id), facts };
  }
  for (const [id, pin] of recordsInHand(plan, plan.pins)) {
    const track = plan.tracks[pin.track];
    if (track?.deck !== deck) continue;
    const height = pin.height ?? plan.decks[pin.deck ?? ""]?.height ?? 0;
    const facts = `${length(height)} above the floor, on ${track.name ?? pin.track} at ${length(pin.at)}`;
    yield { thing: record("pins", id), deck, name: "height pin", facts };
  }
  const standing = [
    ["benches", "bench"],
    ["backdrops", "backdrop"],
    ["gates", "gate"],
  ] as const;
  for (const [collection, what] of standing) {
    for (const [id, item] of recordsInHand(plan, plan[collection] as Plan["benches"])) {
      if (item.deck !== deck) continue;
      yield { thing: record(collection, id), deck, name: called(what, item.name ?? id), facts: `on ${deckName}` };
    }
  }
  for (const [id, label] of recordsInHand(plan, plan.labels)) {
    if ((label.deck ?? decksInOrder(plan)[0]) !== deck) continue;
    yield { thing: record("labels", id), deck, name: called("place", label.text), facts: `on ${deckName}` };
  }
}

function* ofRoom({ plan }: Layout, units: Plan["units"]): Generator<PlanObject> {
  for (const [id, opening] of Object.entries(plan.room.openings)) {
    const facts = `${lengthText(opening.width, units)} wide, in wall ${opening.wall + 1}`;
    yield { thing: { kind: "opening", id }, deck: undefined, name: called(opening.kind, opening.name), facts };
  }
  for (const [id, obstacle] of Object.entries(plan.room.obstacles)) {
    const facts = obstacle.to === undefined ? "to the ceiling" : `${lengthText(obstacle.to, units)} high`;
    yield { thing: { kind: "obstacle", id }, deck: undefined, name: called("obstacle", obstacle.name ?? id), facts };
  }
  for (const [wall, from] of plan.room.outline.entries()) {
    const to = plan.room.outline[wall + 1] ?? plan.room.outline[0] ?? from;
    const facts = lengthText(Math.hypot(to.x - from.x, to.y - from.y), units);
    yield { thing: { kind: "wall", wall }, deck: undefined, name: `wall ${wall + 1}`, facts };
  }
}

function anchorText(plan: Plan, anchor: Anchor): string {
  const track = (id: Id): string => plan.tracks[id]?.name ?? id;
  if ("turnout" in anchor) return `turnout ${plan.turnouts[anchor.turnout]?.name ?? anchor.turnout}`;
  if ("track" in anchor) return `the ${anchor.end} of ${track(anchor.track)}`;
  if ("turntable" in anchor) {
    const name = plan.turntables[anchor.turntable]?.name ?? anchor.turntable;
    return `stall ${anchor.stall + 1} of turntable ${name}`;
  }
  if ("beside" in anchor) return `beside ${track(anchor.beside.track)}`;
  return "a place on the sheet";
}

/** What follows where the line ends. */
function endText(layout: Layout, line: LineKey): string {
  const { plan, network } = layout;
  const id = line.slice("track:".length);
  const last = plan.tracks[id]?.legs.at(-1);
  if (last && "join" in last) return ` to ${anchorText(plan, last.join.to)}`;
  const node = network.nodes.get(network.byLine.get(line)?.at(-1)?.b.node ?? "");
  if (node?.kind === "turntable") return " to a turntable";
  const bumper = plan.tracks[id]?.bumpers?.includes("end") ? ", with a bumper" : "";
  return node?.kind === "end" ? ` to its own end${bumper}` : "";
}
