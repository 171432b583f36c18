/** Small plans of chance: tracks, turnouts, pins, benches and what stands in the room, many of them at fault somewhere. */
import type { Leg, Plan } from "../../src/plan/schema.js";
import { at, box, type Draft, endOf, from, join, LOWER, left, plan, right, startOf, straight } from "./fixture.js";
import { withGates } from "./random-gates.js";
import { withTrains } from "./random-trains.js";

export function randomPlan(random: () => number): Plan {
  const between = (low: number, high: number): number => low + (high - low) * random();
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  const chance = (share: number): boolean => random() < share;
  let draft: Draft = plan()
    .limits({
      radius: 600,
      easement: chance(0.5) ? 250 : 0,
      reverseStraight: 200,
      grade: 2.5,
      feltGrade: 3.5,
      centres: 50,
    })
    .standards({ curveDrag: 800, verticalCurve: chance(0.5) ? 150 : 0, deckSeparation: 350 })
    .deck("upper", between(1100, 1500));
  if (chance(0.8))
    draft = draft.bench("low", box(between(0, 500), between(0, 500), between(4000, 7900), between(2000, 5900)));
  if (chance(0.8))
    draft = draft.bench("high", box(between(0, 3000), 0, between(4000, 7900), between(1000, 4000)), "upper");
  if (chance(0.3))
    draft = draft.backdrop(
      "sky",
      [0, 1, 2].map(() => ({ x: between(0, 8000), y: between(0, 6000) })),
    );
  if (chance(0.3)) draft = draft.obstacle("post", box(3000, 2000, between(3100, 4000), between(2100, 3000)));

  const legs = (): Leg[] =>
    Array.from({ length: 1 + Math.floor(random() * 4) }, () => {
      const easement = chance(0.5) ? between(0, 300) : 0;
      const angle = chance(0.1) ? between(300, 800) : between(5, 120);
      const bend = chance(0.5) ? left : right;
      return chance(0.4) ? straight(between(20, 1500)) : bend(pick([400, 600, 762, 900, 2000]), angle, easement);
    });
  const ids: string[] = [];
  const count = 2 + Math.floor(random() * 6);
  for (let i = 0; i < count; i++) {
    const id = `t${i}`;
    const host = ids.length > 0 ? pick(ids) : undefined;
    const place = at(between(500, 7500), between(500, 5500), pick([0, 45, 90, between(-180, 180)]));
    const turnout = `k${i}`;
    if (host && chance(0.5)) {
      const hand = pick(["left", "right", "wye"] as const);
      const facing = pick(["with", "against"] as const);
      draft = draft.turnout(turnout, { on: host, at: between(0, 1500), hand, facing, number: pick([4, 6, 8]) });
    }
    const start =
      !host || chance(0.4)
        ? place
        : chance(0.5) && draft.plan.turnouts[turnout]
          ? from(turnout)
          : pick([endOf, startOf])(host);
    const more = host && chance(0.2) ? [join(pick([endOf(host), startOf(id), place]), 600, 100)] : [];
    draft = draft.track(id, start, [...legs(), ...more], {
      class: pick(["main", "branch", "siding", "yard"]),
      deck: chance(0.7) ? "lower" : "upper",
    });
    if (chance(0.5))
      draft = draft.pin(
        `p${i}`,
        id,
        between(0, 1000),
        chance(0.5) ? pick(["lower", "upper"]) : between(LOWER - 50, 1400),
      );
    if (chance(0.3)) draft = draft.pin(`q${i}`, id, between(0, 3000), between(LOWER, 1400));
    ids.push(id);
  }
  const wall = Math.floor(4 * random());
  const swing = { hinge: pick(["near", "far"] as const), into: pick(["room", "outside"] as const) };
  if (chance(0.7)) draft = draft.opening("door", { kind: "door", wall, at: between(100, 5000), width: 800, swing });
  const glass = { sill: 900, head: between(950, 2000) };
  if (chance(0.4))
    draft = draft.opening("light", {
      kind: "window",
      wall: (wall + 1) % 4,
      at: between(0, 4500),
      width: 900,
      ...glass,
    });
  if (chance(0.4)) draft = draft.bench("arm", box(2000, 3000, between(5000, 7400), between(3400, 5400)));
  if (chance(0.3)) draft = draft.gate("gate", box(0, 3000, 2000, 3300));
  for (const id of ids) {
    const track = draft.plan.tracks[id];
    const wishes = track && { class: track.class, deck: track.deck, hidden: true };
    if (track && chance(0.15)) draft = draft.track(id, track.start, track.legs, wishes);
  }
  // A ledge deep under the deck above, so that its track cannot be seen from the aisle.
  if (!draft.plan.benches["low"]) {
    draft = draft
      .bench("ledge", box(0, 5500, 3000, 6000))
      .bench("eaves", box(0, 4800, 3000, 6000), "upper")
      .track("under", at(200, 5750), [straight(2500)]);
  }
  return withGates(withTrains(draft, random), random).plan;
}
