/** A search followed to its end, refused, or stopped half way. */
import { describe, expect, it } from "vitest";
import { gatherRoutes } from "../../src/cli/gather-routes.js";
import type { ClimbRoute, ClimbStep } from "../../src/core/index.js";

const route = (track: string): ClimbRoute => ({ track }) as ClimbRoute;
const progress = (looked: number): ClimbStep => ({ kind: "progress", stage: "ways", looked, found: 0 });

function* steps(last: ClimbStep): Generator<ClimbStep> {
  yield progress(1);
  yield { kind: "route", route: route("a") };
  yield progress(2);
  yield { kind: "route", route: route("b") };
  yield progress(3);
  yield last;
}
const answer: ClimbStep = { kind: "answer", routes: [route("b"), route("a")] };

/** What is told, and enough once so many have been. */
function listener(most = Number.POSITIVE_INFINITY) {
  const told: (readonly [looked: number, routes: number])[] = [];
  return {
    told,
    enough: () => told.length >= most,
    tell: ({ looked }: { readonly looked: number }, routes: number) => void told.push([looked, routes]),
  };
}

describe("gatherRoutes", () => {
  it("answers in the order of the answer, telling how far it is", async () => {
    const listening = listener();
    const found = await gatherRoutes(steps(answer), listening, 0);
    expect(found).toMatchObject({ stopped: false, routes: [{ track: "b" }, { track: "a" }] });
    expect(listening.told).toEqual([
      [1, 0],
      [2, 1],
      [3, 2],
    ]);
  });

  it("keeps what was found when it is stopped, and asks for no more", async () => {
    const listening = listener(2);
    const asked = steps(answer);
    const found = await gatherRoutes(asked, listening, 0);
    expect(found).toMatchObject({ stopped: true, routes: [{ track: "a" }] });
    expect(listening.told).toHaveLength(2);
    expect(asked.next().done).toBe(true);
  });

  it("passes on why a search is refused", async () => {
    const found = await gatherRoutes(steps({ kind: "refused", why: "no such end" }), listener(), 0);
    expect(found).toEqual({ refused: "no such end" });
  });
});
