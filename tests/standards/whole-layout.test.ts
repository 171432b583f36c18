/** The published figures of a whole layout against the worked example of a 2014 magazine (read second hand). */
import { expect, test } from "vitest";
import { wholeLayout } from "../../src/standards/whole-layout.js";

test("storage 516, staging 336, passing 338, connecting 242, main 706: 816 cars, 116 %, 500 moved", () => {
  const { cars, share, moved } = wholeLayout({ storage: 516, staging: 336, passing: 338, connecting: 242, main: 706 });
  expect(Math.floor(cars)).toBe(816);
  expect(Math.round(share ?? 0)).toBe(116);
  expect(Math.floor(moved)).toBe(500);
});

test("without a main there is no share of it", () => {
  const figures = wholeLayout({ storage: 10, staging: 0, passing: 0, connecting: 0, main: 0 });
  expect(figures).toEqual({ cars: 8, share: undefined, moved: 0 });
});
