/** The tables of a drawing set: readings, and schedules of all tracks and turnouts, so that what finds no room on the plan stands here. */
import { lengthText, percentText } from "../../drafting/figures.js";
import { frogText } from "../../drafting/label-turnouts.js";
import { gradesOf } from "../../drafting/label-grades.js";
import { heightText } from "../../drafting/label-heights.js";
import type { Layout } from "../../layout/layout.js";
import { heightAt } from "../../layout/profile.js";
import type { Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { grouped, limitText, placeText, valueText, VERDICTS } from "../readings-text.js";
import { PRINT } from "./sheet-frame.js";
import type { Table, TableRow } from "./table-pages.js";

/** Each reading with its worst place. */
export function readingsTable(plan: Plan, readings: readonly Reading[]): Table {
  const rows = grouped(readings).flatMap((group): TableRow[] => [
    { cells: [group.name], group: true },
    ...group.readings.map((reading): TableRow => {
      const [worst] = reading.places;
      const { verdict } = reading;
      const colour = verdict === "fails" ? PRINT.fails : verdict === "tight" ? PRINT.tight : undefined;
      return {
        cells: [
          reading.label,
          valueText(reading, plan.units),
          limitText(reading, plan.units),
          verdict === "none" ? "" : VERDICTS[verdict].word,
          worst ? placeText(plan, worst) : "",
        ],
        ...(colour && { colour }),
      };
    }),
  ]);
  return {
    title: "Readings",
    columns: [
      { heading: "reading", share: 0.33 },
      { heading: "value", share: 0.11, end: true },
      { heading: "limit", share: 0.12, end: true },
      { heading: "verdict", share: 0.14 },
      { heading: "worst at", share: 0.3 },
    ],
    rows,
  };
}

/** Radius of the sharpest curve of every track, its steepest grade, and the heights of its ends. */
export function trackSchedule(plan: Plan, layout: Layout): Table {
  const rows = [...layout.lines.values()]
    .filter(({ kind }) => kind === "track")
    .map((line): TableRow => {
      const bend = line.path.segments.reduce((most, { k0, k1 }) => Math.max(most, Math.abs(k0), Math.abs(k1)), 0);
      const profile = layout.profiles.get(line.key);
      const grade = Math.max(0, ...gradesOf(layout, line).map((stretch) => Math.abs(stretch.grade)));
      const height = (s: number): string => (profile ? heightText(heightAt(profile, s), plan.units) : "");
      return {
        cells: [
          plan.tracks[line.id]?.name || line.id,
          plan.decks[line.deck]?.name ?? line.deck,
          line.class,
          lengthText(line.path.length, plan.units),
          bend > 0 ? lengthText(1 / bend, plan.units) : "straight",
          percentText(grade),
          height(0),
          height(line.path.length),
        ],
      };
    });
  return {
    title: "Tracks",
    columns: [
      { heading: "track", share: 0.24 },
      { heading: "deck", share: 0.13 },
      { heading: "class", share: 0.09 },
      { heading: "length", share: 0.12, end: true },
      { heading: "least radius", share: 0.12, end: true },
      { heading: "grade", share: 0.1, end: true },
      { heading: "starts at", share: 0.1, end: true },
      { heading: "ends at", share: 0.1, end: true },
    ],
    rows,
  };
}

export function turnoutSchedule(plan: Plan, layout: Layout): Table {
  const rows = [...layout.turnouts.values()].map((turnout): TableRow => {
    const host = layout.lines.get(turnout.host);
    const profile = layout.profiles.get(turnout.host);
    return {
      cells: [
        turnout.id,
        host ? plan.tracks[host.id]?.name || host.id : "",
        lengthText(turnout.at, plan.units),
        frogText(turnout),
        lengthText(turnout.radius, plan.units),
        profile ? heightText(heightAt(profile, turnout.at), plan.units) : "",
      ],
    };
  });
  return {
    title: "Turnouts",
    columns: [
      { heading: "turnout", share: 0.24 },
      { heading: "on", share: 0.26 },
      { heading: "points at", share: 0.13, end: true },
      { heading: "size", share: 0.15, end: true },
      { heading: "lead radius", share: 0.11, end: true },
      { heading: "height", share: 0.11, end: true },
    ],
    rows,
  };
}
