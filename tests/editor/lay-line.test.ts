/** The line tool's stories: from paper, from ends, from a track, closed on an end, typed, taken back, given up. */
import { limitsOf } from "../../src/plan/class-limits.js";
import { describe, expect, it } from "vitest";
import type { Track } from "../../src/plan/schema.js";
import { emptyRoom, layPlan } from "./lay-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const line = (plan = emptyRoom): SheetDriver => openSheet(plan).stage("lay").take("line");
const only = (sheet: SheetDriver): Track => {
  const [track] = Object.values(sheet.plan.tracks);
  if (!track) throw new Error("no track was laid");
  return track;
};
const endOf = (sheet: SheetDriver, id: string) => {
  const path = sheet.state.settled.lines.get(`track:${id}`)?.path;
  if (!path) throw new Error(`${id} is not laid`);
  return path.end;
};
const least = limitsOf(emptyRoom, "main");

describe("from bare paper", () => {
  it("goes from the first click to the second, then curves to the third", () => {
    const sheet = line().click(1000, 1500).click(2500, 1500).click(4000, 2300).key("Enter");
    const track = only(sheet);
    expect(track).toMatchObject({ class: "main", deck: "lower", start: { pose: { x: 1000, y: 1500, heading: 0 } } });
    expect(track.legs).toEqual([
      { straight: 1500 },
      { curve: { radius: least.radius.value, angle: expect.any(Number), hand: "left" } },
      { straight: expect.any(Number) },
    ]);
    const end = endOf(sheet, "main");
    // The last straight is rounded to the millimetre.
    expect(Math.hypot(end.x - 4000, end.y - 2300)).toBeLessThan(0.51);
    expect(sheet.state.selection).toEqual([{ kind: "record", collection: "tracks", id: "main" }]);
    expect(sheet.undo().plan).toBe(emptyRoom);
  });

  it("keeps typed lengths, radius and angle exactly; a bare number is in the plan's units, a unit wins", () => {
    const sheet = line().click(1000, 1500).pointerMove(2000, 1600).type('12"').key("Enter");
    sheet
      .pointerMove(3000, 3000)
      .key("Tab")
      .type("950")
      .key("Tab")
      .type("45")
      .key("Tab")
      .type("400")
      .key("Enter")
      .key("Enter");
    expect(only(sheet).legs).toEqual([
      { straight: 304.8 },
      { curve: { radius: 950, angle: 45, hand: "left" } },
      { straight: 400 },
    ]);
  });

  it("lays with Shift in whole steps of turn", () => {
    const sheet = line()
      .click(1000, 1500)
      .click(2500, 1550, { shift: true })
      .click(4400, 2400, { shift: true })
      .key("Enter");
    const track = only(sheet);
    expect(track.start).toMatchObject({ pose: { heading: 0 } });
    const angles = track.legs.flatMap((leg) => ("curve" in leg ? [leg.curve.angle] : []));
    expect(angles).toEqual([30]);
  });

  it("is ended by a double click, which lays nothing twice", () => {
    const sheet = line().click(1000, 1500).click(2000, 1500).doubleClick(3000, 1500);
    expect(only(sheet).legs).toEqual([{ straight: 1000 }, { straight: 1000 }]);
    expect(sheet.state.history.past?.next).toBeUndefined();
  });

  it("is pulled out in one stroke", () => {
    const sheet = line().drag([1000, 1500], [2200, 1500]).key("Enter");
    expect(only(sheet).legs).toEqual([{ straight: 1200 }]);
  });

  it("takes legs back with Backspace until nothing is begun", () => {
    const sheet = line().click(1000, 1500).click(2000, 1500).click(3000, 1500).key("Backspace").key("Enter");
    expect(only(sheet).legs).toEqual([{ straight: 1000 }]);
    sheet.click(1000, 2500).click(2000, 2500).key("Backspace").key("Backspace");
    expect(sheet.state.history.preview).toBeUndefined();
    expect(sheet.key("Enter").plan.tracks).toEqual({ main: expect.anything() });
  });

  it("says which limit stops it, lays nothing there, and goes on", () => {
    const sheet = line().click(1000, 1500).click(2000, 1500).pointerMove(2050, 1800);
    const refused = sheet.state.show.overlay.flatMap((o) =>
      o.kind === "label" && o.style === "refused" ? [o.text] : [],
    );
    expect(refused.join()).toMatch(/main's least radius is/);
    sheet.click(2050, 1800);
    expect(sheet.state.said).toMatch(/least radius/);
    sheet.click(3500, 1500).key("Enter");
    expect(only(sheet).legs).toEqual([{ straight: 1000 }, { straight: 1500 }]);
  });

  it("lays in the class that is chosen, and says where a typed radius is below its least", () => {
    const sheet = line().choose("class", "yard").click(1000, 1500).click(2000, 1500);
    sheet.pointerMove(3500, 2500).key("Tab").type("300").key("Enter");
    const notes = sheet.state.show.overlay.flatMap((o) =>
      o.kind === "label" && o.style === "refused" ? [o.text] : [],
    );
    expect(notes.join()).toMatch(/sharper than the yard's/);
    sheet.click(3500, 2500).key("Enter");
    expect(only(sheet).class).toBe("yard");
    expect(only(sheet).legs[1]).toMatchObject({ curve: { radius: 300 } });
  });
});

describe("from what is there", () => {
  it("makes a track longer from its end", () => {
    const sheet = line(layPlan).click(2200, 2000).click(3000, 2000).key("Enter");
    expect(sheet.plan.tracks["alone"]?.legs).toEqual([{ straight: 1200 }, { straight: 800 }]);
    expect(Object.keys(sheet.plan.tracks)).toEqual(Object.keys(layPlan.tracks));
  });

  it("starts a track from another's start", () => {
    const sheet = line(layPlan).click(1000, 2000).click(300, 2000).key("Enter");
    const added = Object.entries(sheet.plan.tracks).find(([id]) => !(id in layPlan.tracks))?.[1];
    expect(added).toMatchObject({ start: { track: "alone", end: "start" }, legs: [{ straight: 700 }] });
  });

  it("puts a turnout on a track and its branch in one step, to the pointer's side and way", () => {
    const sheet = line(layPlan).click(2000, 300).click(3000, 700).key("Enter");
    const [id, turnout] = Object.entries(sheet.plan.turnouts).find(([key]) => key !== "points") ?? [];
    expect(turnout).toMatchObject({ on: "main", facing: "with", hand: "left", number: 6 });
    const branch = Object.values(sheet.plan.tracks).find(
      (track) => "turnout" in track.start && track.start.turnout === id,
    );
    expect(branch?.legs.length).toBeGreaterThan(0);
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.undo().plan).toBe(layPlan);
    sheet.take("line").choose("frog", "8").click(2000, 300).click(400, 600).key("Enter");
    const back = Object.entries(sheet.plan.turnouts).find(([key]) => key !== "points")?.[1];
    expect(back).toMatchObject({ facing: "against", hand: "right", number: 8 });
  });

  it("goes on from the turnout that is chosen", () => {
    const bare = { ...layPlan, tracks: { main: layPlan.tracks["main"] as Track } };
    const sheet = openSheet(bare).select({ kind: "record", collection: "turnouts", id: "points" }).take("line");
    sheet.click(2500, 600).key("Enter");
    const branch = Object.values(sheet.plan.tracks).find((track) => "turnout" in track.start);
    expect(branch?.start).toEqual({ turnout: "points" });
  });

  it("closes on an end with a joining leg, and is done", () => {
    const sheet = line(layPlan).click(2200, 2000).click(2600, 2000).click(500, 300);
    expect(sheet.plan.tracks["alone"]?.legs.at(-1)).toMatchObject({ join: { to: { track: "main", end: "start" } } });
    expect(sheet.state.history.preview).toBeUndefined();
    const start = sheet.state.settled.lines.get("track:main")?.path.start;
    const end = endOf(sheet, "alone");
    expect(Math.hypot(end.x - (start?.x ?? 0), end.y - (start?.y ?? 0))).toBeLessThan(1e-6);
  });

  it("closes a ring on its own start", () => {
    const sheet = line(layPlan).click(2200, 2000).click(2600, 2000).click(1000, 2000);
    expect(sheet.plan.tracks["alone"]?.legs.at(-1)).toMatchObject({ join: { to: { track: "alone", end: "start" } } });
    expect(sheet.state.settled.findings).toEqual([]);
  });
});

describe("given up", () => {
  const steps: readonly ((sheet: SheetDriver) => unknown)[] = [
    (s) => s.pointerMove(2000, 300),
    (s) => s.pointerDown(2000, 300),
    (s) => s.pointerUp(2000, 300),
    (s) => s.pointerMove(3000, 600),
    (s) => s.click(3000, 700),
    (s) => s.type("34 1/2"),
    (s) => s.key("Tab"),
    (s) => s.pointerMove(3500, 1500),
    (s) => s.click(3500, 1500),
  ];
  it.each(steps.map((_, i) => i + 1))("Esc after %i steps leaves no trace", (count) => {
    const sheet = line(layPlan);
    for (const step of steps.slice(0, count)) step(sheet);
    sheet.cancel();
    expect(sheet.plan).toBe(layPlan);
    expect(sheet.state.plan).toBe(layPlan);
    expect(sheet.state.history.past).toBeUndefined();
  });
});
