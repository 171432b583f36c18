/** Doors in the bottom wall of a room of 8 m by 6 m, hung at their near side and opening into the room. */
import { describe, expect, test } from "vitest";
import { box, type Draft, plan } from "./fixture.js";

const door = (into: "room" | "outside" = "room"): Draft =>
  plan().opening("door", {
    kind: "door",
    name: "front door",
    wall: 0,
    at: 1000,
    width: 800,
    head: 2000,
    swing: { hinge: "near", into },
  });

/** A bench above the line that the leaf reaches at 45 degrees. */
const inTheWay = box(1000, 565.685, 3000, 1200);

describe("a door", () => {
  test("with nothing in its way swings free", () => {
    expect(door().reading("door:door")).toMatchObject({
      value: 90,
      limit: 90,
      unit: "degrees",
      bound: "least",
      verdict: "clear",
    });
    expect(
      door()
        .bench("beside", box(1900, 0, 4000, 600))
        .reading("door:door")?.verdict,
    ).toBe("clear");
  });

  test("that meets a bench fails where it meets it", () => {
    const reading = door().bench("shelf", inTheWay).reading("door:door");
    expect(reading).toMatchObject({ value: expect.closeTo(45, 1) as number, verdict: "fails" });
    const [place] = reading?.places ?? [];
    expect(place).toMatchObject({ thing: "room.openings.door", note: "meets shelf" });
    expect([place?.point.x, place?.point.y]).toEqual([expect.closeTo(1565.7, 0), expect.closeTo(565.7, 0)]);
    expect(reading?.source).toMatch(/local codes/);
  });

  test("that meets an obstacle or a wall fails, and one under what hangs higher does not", () => {
    expect(door().obstacle("stove", inTheWay).reading("door:door")?.verdict).toBe("fails");
    expect(door().obstacle("duct", inTheWay, { from: 2100 }).reading("door:door")?.verdict).toBe("clear");
    const corner = plan().opening("door", {
      kind: "door",
      wall: 0,
      at: 7000,
      width: 800,
      swing: { hinge: "far", into: "room" },
    });
    expect(corner.reading("door:door")?.verdict).toBe("clear");
  });

  test("that only a closed gate stops is tight", () => {
    const reading = door().gate("lift", inTheWay).reading("door:door");
    expect(reading).toMatchObject({ verdict: "tight", places: [{ note: "meets lift, when it is closed" }] });
  });

  test("that opens outward, a passage, and a room without openings give no reading", () => {
    expect(door("outside").reading("door:door")).toBeUndefined();
    expect(plan().opening("way", { kind: "passage", wall: 0, at: 0, width: 900 }).reading("door:way")).toBeUndefined();
    expect(plan().readings.filter(({ id }) => id === "door")).toEqual([]);
  });
});

describe("a window", () => {
  const window = (sill = 900): Draft =>
    plan().opening("w", { kind: "window", wall: 0, at: 1000, width: 1000, sill, head: 2000 });

  test.each([
    ["with nothing before it", window(), 0, "clear"],
    ["with a shelf along half of it", window().bench("s", box(1500, 0, 4000, 500)), 50, "tight"],
    [
      "with two benches over the same half",
      window()
        .bench("s", box(1500, 0, 4000, 500))
        .bench("t", box(1600, 0, 1800, 200)),
      50,
      "tight",
    ],
    ["above the shelf", window(1010).bench("s", box(0, 0, 4000, 500)), 0, "clear"],
    ["with a shelf that stands off from it", window().bench("s", box(0, 400, 4000, 900)), 0, "clear"],
    [
      "behind a backdrop",
      window(1010).backdrop("sky", [
        { x: 0, y: 50 },
        { x: 1250, y: 50 },
      ]),
      25,
      "tight",
    ],
  ] as const)("%s", (_, draft, covered, verdict) => {
    const reading = draft.reading("door:w");
    expect(reading).toMatchObject({ value: expect.closeTo(covered, 1) as number, unit: "percent", verdict });
    expect(reading?.source).toMatch(/a way out/);
  });

  test("of which sill or head are not known gives no reading", () => {
    expect(plan().opening("w", { kind: "window", wall: 0, at: 0, width: 900 }).reading("door:w")).toBeUndefined();
  });
});
