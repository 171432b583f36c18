/** Tables for spreadsheets, parsed back by the rules of RFC 4180. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { heightsCsv, MOST_ROWS, readingsCsv } from "../../src/exchange/csv.js";
import { grouped } from "../../src/exchange/readings-text.js";
import { curvatureAt, poseAt } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { heightAt, slopeAt } from "../../src/layout/profile.js";
import type { Plan } from "../../src/plan/schema.js";
import type { Reading } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { hillPlan } from "./hill-plan.js";

/** RFC 4180, section 2, letter by letter: CR LF ends a row; a quote within quotes is doubled. */
function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  let [row, cell, quoted]: [string[], string, boolean] = [[], "", false];
  for (let i = 0; i < text.length; i++) {
    const letter = text[i] ?? "";
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (text[i + 1] === '"') cell += text[++i];
      else quoted = false;
    } else if (letter === '"') {
      expect(cell).toBe("");
      quoted = true;
    } else if (letter === ",") [row, cell] = [[...row, cell], ""];
    else if (letter === "\r" && text[i + 1] === "\n") {
      rows.push([...row, cell]);
      [row, cell] = [[], ""];
      i++;
    } else cell += letter;
  }
  expect([quoted, row, cell]).toEqual([false, [], ""]);
  return rows;
}

const layout = deriveLayout(hillPlan);
const readings = takeReadings(hillPlan, layout);
const oneReading = (note: string, label = "Radius"): Reading => ({
  id: "radius",
  label,
  value: -12.5,
  unit: "mm",
  limit: 762,
  bound: "least",
  verdict: "fails",
  places: [{ deck: "foot", point: { x: 0, y: 0 }, thing: "tracks.main", s: 25.4, value: -25.4, note }],
  source: "test",
});

describe("readings as a table", () => {
  const rows = parseCsv(readingsCsv(hillPlan, readings, "metric"));

  it("has every reading in the order of the groups, with value, limit and verdict, and its places below it", () => {
    const told = rows.slice(1).filter((row) => row[6] === "");
    const all = grouped(readings).flatMap((group) =>
      group.readings.map((reading) => ({ group: group.name, ...reading })),
    );
    expect(rows[0]).toEqual(["group", "reading", "value", "unit", "limit", "verdict", "place", "note"]);
    expect(told.map((row) => row.slice(0, 2))).toEqual(all.map(({ group, label }) => [group, label]));
    told.forEach((row, i) => {
      const { value, limit, unit } = all[i] ?? {};
      expect(row[2] === "" ? undefined : Number(row[2])).toBe(value === undefined ? value : Number(value.toFixed(4)));
      expect(row[4] === "" ? undefined : Number(row[4])).toBe(limit === undefined ? limit : Number(limit.toFixed(4)));
      expect(row[3]).toBe({ mm: "mm", percent: "%", degrees: "deg", count: "" }[unit ?? "count"]);
    });
    expect(rows.length).toBe(1 + all.length + all.reduce((sum, { places }) => sum + places.length, 0));
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([8]));
  });

  it("counts in inches where asked, and leaves negative figures figures", () => {
    const [, first, place] = parseCsv(readingsCsv(hillPlan, [oneReading("low")], "imperial"));
    expect(first).toEqual(["Track", "Radius", "-0.4921", "in", "30", "Fails", "", "test"]);
    const deck = hillPlan.decks["foot"]?.name;
    expect(place).toEqual(["Track", "Radius", "-1", "in", "30", "", `tracks.main @ 1″, ${deck}`, "low"]);
  });

  it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "\u00a0=1", "＝1", "-2+3|cmd"])(
    "makes %j harmless",
    (text) => {
      const [, , place] = parseCsv(readingsCsv(hillPlan, [oneReading(text)]));
      expect(place?.[7]).toBe(`'${text}`);
    },
  );

  it("keeps any text whole in its cell", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "binary" }),
        fc.string({ unit: fc.constantFrom('"', ",", "\n", "\r", "=", "a") }),
        (a, b) => {
          const [, first, place, ...more] = parseCsv(readingsCsv(hillPlan, [oneReading(a, b)]));
          const whole = (text: string) => [text.replaceAll("\0", ""), `'${text.replaceAll("\0", "")}`];
          expect(more).toEqual([]);
          expect(whole(a)).toContain(place?.[7]);
          expect(whole(b)).toContain(first?.[1]);
        },
      ),
      { seed: 20260101, numRuns: 300 },
    );
  });
});

describe("heights as a table", () => {
  const table = (plan: Plan, options: Parameters<typeof heightsCsv>[1]) => {
    const csv = heightsCsv(deriveLayout(plan), options);
    if (!csv.ok) throw new Error(csv.message);
    return parseCsv(csv.text);
  };

  it.each(["metric", "imperial"] as const)(
    "tells where each track is, how high, how steep, how sharp (%s)",
    (units) => {
      const every = 100;
      const one = units === "imperial" ? 25.4 : 1;
      const [head, ...rows] = table(hillPlan, { every, units });
      const unit = units === "imperial" ? "in" : "mm";
      expect(head?.slice(2)).toEqual(
        ["distance", "x", "y", "height"].map((w) => `${w} (${unit})`).concat("grade (%)", `radius (${unit})`),
      );
      const names = new Map(Object.entries(hillPlan.tracks).map(([id, { name }]) => [name ?? id, id]));
      for (const [track, deck, ...cells] of rows) {
        const key = `track:${names.get(track ?? "")}` as const;
        const [line, profile] = [layout.lines.get(key), layout.profiles.get(key)];
        if (!line || !profile) throw new Error(`no ${track}`);
        const [told = 0, x, y, height, grade, radius] = cells.map(Number);
        // Rounded figures fall on the other side of a break of grade.
        const s = Math.min(Math.round((told * one) / every) * every, line.path.length);
        const exact = Math.abs(s - told * one) < 0.01 ? s : line.path.length;
        expect(told * one).toBeCloseTo(exact, 2);
        expect(deck).toBe(hillPlan.decks[line.deck]?.name);
        const pose = poseAt(line.path, exact);
        expect(Math.hypot((x ?? 0) * one - pose.x, (y ?? 0) * one - pose.y)).toBeLessThan(0.01);
        expect((height ?? 0) * one).toBeCloseTo(heightAt(profile, exact), 1);
        expect(grade).toBeCloseTo(slopeAt(profile, exact) * 100, 1);
        const bend = Math.abs(curvatureAt(line.path, exact));
        if (cells[5] === "") expect(bend).toBeLessThan(1e-6);
        else expect((radius ?? 0) * one * bend).toBeCloseTo(1, 2);
      }
      const ends = [...layout.lines.values()].filter(({ kind }) => kind === "track").map(({ path }) => path.length);
      expect(rows.length).toBe(ends.reduce((sum, length) => sum + Math.ceil(length / every) + 1, 0));
      const told = new Set(rows.map((row) => Number(((Number(row[2]) || 0) * one).toFixed(1))));
      for (const end of ends) expect(told).toContain(Number(end.toFixed(1)));
    },
  );

  it("ends a track once where its length is a multiple, and has one row for a track of none", () => {
    const rows = table(hillPlan, { every: 1e6 });
    const tracks = [...layout.lines.values()].filter(({ kind }) => kind === "track");
    expect(rows.length).toBe(1 + 2 * tracks.length);
    const half = (tracks[0]?.path.length ?? 0) / 2;
    const own = table(hillPlan, { every: half }).filter(
      ([track]) => track === (hillPlan.tracks[tracks[0]?.id ?? ""]?.name ?? tracks[0]?.id),
    );
    expect(own.length).toBe(3);
  });

  it("can be of one deck", () => {
    const decks = new Set(
      table(hillPlan, { every: 200, deck: "foot" })
        .slice(1)
        .map((row) => row[1]),
    );
    expect(decks).toEqual(new Set([hillPlan.decks["foot"]?.name]));
  });

  it("tells tracks of one name apart", () => {
    const tracks = Object.fromEntries(
      Object.entries(hillPlan.tracks).map(([id, track]) => [id, { ...track, name: "=Same" }]),
    );
    const names = new Set(
      table({ ...hillPlan, tracks }, { every: 500 })
        .slice(1)
        .map(([name]) => name),
    );
    expect(names).toEqual(new Set(Object.keys(tracks).map((id) => `'=Same (${id})`)));
  });

  it.each([0, -5, Number.NaN, 1e-6])("is refused every %d mm", (every) => {
    const csv = heightsCsv(layout, { every });
    expect(csv).toMatchObject({ ok: false });
    expect(!csv.ok && csv.message).toMatch(every > 0 ? new RegExp(`rows.*${MOST_ROWS}`) : /more than none/);
  });
});
