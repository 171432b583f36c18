/** Details of a track: what it is, where it starts, and the list of its legs. */
import { limitsOf } from "../../../plan/class-limits.js";
import { legStationsOf } from "../../../layout/derive.js";
import type { Layout } from "../../../layout/layout.js";
import { appendLeg, insertLeg, moveTrackStart, removeLeg, setTrack } from "../../../plan/track-edits.js";
import { amend, recordAt, refused } from "../../../plan/edit.js";
import { type Anchor, type Id, type Leg, type Plan, TRACK_CLASSES, type Track } from "../../../plan/schema.js";
import { consequenceOf } from "./consequence.js";
import type { Action, Details, Field, Section } from "./field.js";
import { anchorName, legFields } from "./leg-fields.js";
import { legName, nameOf, trackName } from "./names.js";
import { deckChoices, fact, lengthNote, optionalName } from "./parts.js";
import { bumperField } from "./trackwork-details.js";

export function trackDetails(plan: Plan, layout: Layout, id: Id, leg: number | undefined): Details | undefined {
  const track = recordAt(plan, "tracks", id);
  if (!track) return undefined;
  const chosen = leg === undefined ? undefined : track.legs[leg];
  const legs = track.legs.map((one, i) => legSection(plan, layout, id, one, i));
  const ref = { collection: "tracks", id } as const;
  const own: Section = { id: "track", fields: trackFields(plan, layout, id, track), actions: newLegs(plan, id) };
  const consequence = consequenceOf(plan, ref, `Moving this ${chosen ? legName(chosen).toLowerCase() : "track"}`);
  const shared = { ...(consequence !== undefined && { consequence }) };
  if (!chosen || leg === undefined) {
    return { title: "Track", about: trackName(plan, id), sections: [own, ...legs], ...shared };
  }
  const first = legs[leg];
  return {
    title: legName(chosen),
    about: `leg ${leg + 1} of ${track.legs.length}, ${trackName(plan, id)}`,
    // The leg in hand stands first and has no need of its own name again.
    sections: [...(first ? [{ id: first.id, leg, fields: first.fields, actions: first.actions ?? [] }] : []), own],
    ...shared,
  };
}

function trackFields(plan: Plan, layout: Layout, id: Id, track: Track): Field[] {
  const line = layout.lines.get(`track:${id}`);
  return [
    optionalName("tracks", id, track.name),
    {
      kind: "choice",
      id: "class",
      label: "Class",
      note: "sets limits",
      value: track.class,
      choices: TRACK_CLASSES.map((name) => ({ value: name, name })),
      set: (now, value) => {
        const found = TRACK_CLASSES.find((name) => name === value);
        return found ? setTrack(now, id, { class: found }) : refused(`there is no class "${value}"`);
      },
    },
    {
      kind: "choice",
      id: "deck",
      label: "Deck",
      value: track.deck,
      choices: deckChoices(plan),
      set: (now, deck) => setTrack(now, id, { deck }),
    },
    { kind: "fact", id: "length", label: "Length", note: "follows", value: lengthNote(line?.path.length, plan) },
    {
      kind: "choice",
      id: "hidden",
      label: "Hidden",
      value: Array.isArray(track.hidden) ? "part" : track.hidden === true ? "yes" : "no",
      choices: [
        { value: "no", name: "in view" },
        { value: "yes", name: "hidden" },
        ...(Array.isArray(track.hidden) ? [{ value: "part", name: `${track.hidden.length} stretches` }] : []),
      ],
      set: (now, value) =>
        value === "part" ? setTrack(now, id, {}) : setTrack(now, id, { hidden: value === "yes" ? true : undefined }),
    },
    bumperField(id, track.bumpers),
    ...startFields(plan, id, track.start),
  ];
}

function startFields(plan: Plan, id: Id, start: Anchor): Field[] {
  const put = (plan: Plan, next: Anchor) => moveTrackStart(plan, id, next);
  if ("pose" in start) {
    const { pose } = start;
    const axis = (key: "x" | "y", label: string, note: string): Field => ({
      kind: "number",
      id: `start.${key}`,
      label,
      note,
      quantity: "length",
      value: pose[key],
      set: (now, value) => put(now, { ...start, pose: amend(pose, { [key]: value ?? 0 }) }),
    });
    return [
      axis("x", "Starts at", "from the left"),
      axis("y", "and", "up the sheet"),
      {
        kind: "number",
        id: "start.heading",
        label: "Heading",
        note: "anticlockwise",
        quantity: "angle",
        value: pose.heading,
        set: (now, value) => put(now, { ...start, pose: amend(pose, { heading: value ?? 0 }) }),
      },
    ];
  }
  if ("turnout" in start) {
    const route = start.route === undefined ? "" : `, ${start.route} route`;
    const value = nameOf(plan, { collection: "turnouts", id: start.turnout }) + route;
    return [{ kind: "fact", id: "start", label: "Starts from", value }];
  }
  if ("track" in start) {
    const value = `${start.end} of ${trackName(plan, start.track)}`;
    return [{ kind: "fact", id: "start", label: "Starts from", value }];
  }
  if ("turntable" in start)
    return [{ kind: "fact", id: "start", label: "Starts from", value: anchorName(plan, start) }];
  const { beside } = start;
  return [
    {
      kind: "fact",
      id: "start",
      label: "Starts beside",
      value: `${trackName(plan, beside.track)}, ${beside.side} of it`,
    },
    {
      kind: "number",
      id: "start.at",
      label: "Along it",
      quantity: "length",
      value: beside.at,
      set: (now, at) => put(now, { ...start, beside: amend(beside, { at: at ?? 0 }) }),
    },
    {
      kind: "number",
      id: "start.spacing",
      label: "Spacing",
      quantity: "length",
      value: beside.spacing,
      set: (now, spacing) => put(now, { ...start, beside: amend(beside, { spacing: spacing ?? 0 }) }),
    },
  ];
}

function legSection(plan: Plan, layout: Layout, id: Id, leg: Leg, index: number): Section {
  const stations = legStationsOf(layout, id);
  const [begin, end] = [stations[index], stations[index + 1]];
  const length = begin === undefined || end === undefined ? undefined : end - begin;
  const lost = layout.findings.find(({ thing }) => thing === `tracks.${id}.legs.${index}`);
  return {
    id: `leg.${index}`,
    leg: index,
    title: `${index + 1}  ${legName(leg)}`,
    fields: [
      ...legFields(plan, id, leg, index),
      ...("straight" in leg ? [] : [fact("length", "Length", lengthNote(length, plan), "follows")]),
      ...(lost ? [fact("fault", "At fault", lost.note)] : []),
    ],
    actions: [
      { id: "remove", name: "Take up", do: (now) => removeLeg(now, id, index) },
      { id: "before", name: "Straight before it", do: (now) => insertLeg(now, id, index, straight(now)) },
    ],
  };
}

/** A foot or three hundred millimetres: to be typed over. */
const straight = (plan: Plan): Leg => ({ straight: plan.units === "imperial" ? 304.8 : 300 });

function newLegs(plan: Plan, id: Id): Action[] {
  const radius = limitsOf(plan, plan.tracks[id]?.class ?? "main").radius.value;
  const curve = (hand: "left" | "right"): Leg => ({ curve: { radius, angle: 45, hand } });
  return [
    { id: "straight", name: "Add straight", do: (now) => appendLeg(now, id, straight(now)) },
    { id: "left", name: "Add curve left", do: (now) => appendLeg(now, id, curve("left")) },
    { id: "right", name: "Add curve right", do: (now) => appendLeg(now, id, curve("right")) },
  ];
}
