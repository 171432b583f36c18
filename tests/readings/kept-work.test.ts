/** After a small edit what did not change is not measured again: the same objects come back. */
import { describe, expect, test } from "vitest";
import { deriveLayout, meetingReach } from "../../src/layout/derive.js";
import { barriersOf } from "../../src/readings/barriers.js";
import { nearestBenchEdge } from "../../src/readings/bench-edge.js";
import { benchUnder } from "../../src/readings/bench-under.js";
import { deckBenches } from "../../src/readings/deck-benches.js";
import { throwsOf } from "../../src/readings/envelope.js";
import { foulingZones } from "../../src/readings/fouling.js";
import { lineContexts } from "../../src/readings/line-context.js";
import { remember, rememberBeside, rememberPair } from "../../src/readings/remember.js";
import { at, box, from, left, plan, straight } from "./fixture.js";

describe("remembering", () => {
  test("computes once for an object, again for another partner or another thing beside it", () => {
    let computed = 0;
    const [a, b, c] = [{ n: 1 }, { n: 10 }, { n: 100 }];
    const one = remember((x: { n: number }) => x.n + computed++);
    expect([one(a), one(a), one(b), one(a)]).toEqual([1, 1, 11, 1]);
    computed = 0;
    const two = rememberPair((x: { n: number }, y: { n: number }) => x.n + y.n + 1000 * computed++);
    expect([two(a, b), two(a, b), two(a, c), two(a, c)]).toEqual([11, 11, 1101, 1101]);
    computed = 0;
    const beside = rememberBeside((x: { n: number }, y: number, z: string) => `${x.n}${y}${z}${computed++}`);
    expect([beside(a, 1, "z"), beside(a, 1, "z"), beside(a, 2, "z"), beside(a, 2, "y")]).toEqual([
      "11z0",
      "11z0",
      "12z1",
      "12y2",
    ]);
    const nothing = remember(() => {
      computed++;
      return undefined;
    });
    computed = 0;
    nothing(a);
    nothing(a);
    expect(computed).toBe(1);
  });
});

describe("one spur made longer", () => {
  const before = plan()
    .bench("b", box(0, 0, 7000, 3000))
    .track("main", at(500, 1000), [straight(1500), left(900, 60)])
    .turnout("t", { on: "main", at: 400, hand: "left" })
    .track("branch", from("t"), [straight(500), left(900, 20)])
    .track("spur", at(500, 2500), [straight(500)]);
  const first = before.layout;
  const second = deriveLayout(before.track("spur", at(500, 2500), [straight(600)]).plan, first);

  test.each(["track:main", "turnout:t", "track:branch"] as const)("leaves what is known of %s as it was", (key) => {
    const line = first.lines.get(key);
    if (!line) throw new Error("no such line");
    expect(second.lines.get(key)).toBe(line);
    expect(throwsOf(second, line)).toBe(throwsOf(first, line));
    const [one, other] = [first, second].map((layout) => benchUnder(layout, deckBenches(layout), line));
    if (!one || !other) throw new Error("no bench");
    expect(other).toBe(one);
    expect(nearestBenchEdge(line, other)).toBe(nearestBenchEdge(line, one));
  });

  test("leaves walls, decks and what belongs together at turnouts as they were", () => {
    expect(barriersOf(second)).toBe(barriersOf(first));
    expect(deckBenches(second)).toBe(deckBenches(first));
    const near = 2 * meetingReach(before.plan);
    const [zones, later] = [foulingZones(first, near), foulingZones(second, near)];
    const kept = first.meetings.filter((meeting) => second.meetings.includes(meeting));
    expect(kept.length).toBeGreaterThan(1);
    const [contexts, laterContexts] = [lineContexts(first), lineContexts(second)];
    for (const line of kept.flatMap(({ a, b }) => [a, b])) {
      expect(later.get(line)).toBe(zones.get(line));
      expect(laterContexts.get(line)).toBe(contexts.get(line));
    }
  });
});
