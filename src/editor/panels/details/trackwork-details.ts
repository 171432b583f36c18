/** Details of slips and turntables, the stalls among them as a list of angles. */
import type { Layout } from "../../../layout/layout.js";
import { amendRecord, recordAt } from "../../../plan/edit.js";
import { formatAngle } from "../../../plan/grade-text.js";
import type { Id, Plan, Slip, Turntable } from "../../../plan/schema.js";
import { addStall, removeStall, turnStall } from "../../../plan/turntable-edits.js";
import { consequenceOf } from "./consequence.js";
import type { Action, Details, Field, Section } from "./field.js";
import { trackName } from "./names.js";
import { choice, fact, number, optional, optionalName } from "./parts.js";

export function slipDetails(plan: Plan, layout: Layout, id: Id): Details | undefined {
  const slip = recordAt(plan, "slips", id);
  if (!slip) return undefined;
  const placed = layout.slips.get(id);
  const change = (now: Plan, part: { readonly [K in keyof Slip]?: Slip[K] | undefined }) =>
    amendRecord(now, "slips", id, part, "Change slip");
  const flip = (now: Plan) => change(now, { side: (now.slips[id]?.side ?? "left") === "left" ? "right" : "left" });
  const fields: Field[] = [
    optionalName("slips", id, slip.name),
    choice(
      { id: "kind", label: "Kind", value: slip.kind },
      [
        ["single", "single"],
        ["double", "double"],
      ],
      (now, kind) => change(now, { kind, side: kind === "single" ? (now.slips[id]?.side ?? "left") : undefined }),
    ),
    ...(slip.kind === "single"
      ? [
          choice(
            { id: "side", label: "Side", note: "of its own track", value: slip.side ?? "left" },
            [
              ["left", "left"],
              ["right", "right"],
            ],
            (now, side) => change(now, { side }),
          ),
        ]
      : []),
    number({ id: "at", label: "Crosses near", note: "along the track", value: slip.at }, (now, at) =>
      change(now, { at }),
    ),
    ...(placed
      ? [
          fact("frog", "Number", `No. ${placed.number.toFixed(1)}`, "of the crossing"),
          fact("angle", "Angle", formatAngle((placed.angle * 180) / Math.PI), "of the crossing"),
        ]
      : []),
  ];
  const actions: Action[] = slip.kind === "single" ? [{ id: "flip", name: "To the other side", do: flip }] : [];
  return {
    title: "Slip",
    about: `${trackName(plan, slip.on)} and ${trackName(plan, slip.across)}`,
    sections: [{ id: "slip", fields, actions }],
  };
}

export function turntableDetails(plan: Plan, id: Id): Details | undefined {
  const turntable = recordAt(plan, "turntables", id);
  if (!turntable) return undefined;
  const fields: Field[] = [
    optionalName("turntables", id, turntable.name),
    number({ id: "bridge", label: "Bridge", note: "the pit is as wide", value: turntable.bridge }, (now, bridge) =>
      amendRecord(now, "turntables", id, { bridge }, "Change bridge"),
    ),
    fact("on", "At the", `${turntable.end} of ${trackName(plan, turntable.on)}`, ""),
  ];
  const carried = consequenceOf(plan, { collection: "turntables", id }, "Moving this turntable");
  const emptied = turntable.stalls.length > 0 ? "A stall whose angle is emptied is taken away." : undefined;
  const consequence = [carried, emptied].filter(Boolean).join(" ");
  return {
    title: "Turntable",
    about: `at the ${turntable.end} of ${trackName(plan, turntable.on)}`,
    sections: [{ id: "turntable", fields }, stallSection(plan, id, turntable)],
    ...(consequence !== "" && { consequence }),
  };
}

/** A stall more is turned so far from the last, where there are not two to tell. */
const USUAL_BETWEEN = 15;

function stallSection(plan: Plan, id: Id, { stalls }: Turntable): Section {
  const fields = stalls.map((angle, stall): Field => {
    const note = trackFrom(plan, id, stall) ?? "free";
    return optional(
      { id: `stall.${stall}`, label: `Stall ${stall + 1}`, note, quantity: "angle", value: angle, without: "none" },
      (now, value) => (value === undefined ? removeStall(now, id, stall) : turnStall(now, id, stall, value)),
    );
  });
  const [last, before] = [stalls.at(-1), stalls.at(-2)];
  const between = last !== undefined && before !== undefined ? last - before : USUAL_BETWEEN;
  const next = last === undefined ? 0 : last + between;
  const actions: Action[] = [
    { id: "add", name: "Add stall", do: (now) => addStall(now, id, next) },
    ...(stalls.length > 0
      ? [{ id: "remove", name: "Take last away", do: (now: Plan) => removeStall(now, id, stalls.length - 1) }]
      : []),
  ];
  return { id: "stalls", title: "Stalls, left from straight on", fields, actions };
}

/** The track that leads from a stall or to it. */
function trackFrom(plan: Plan, id: Id, stall: number): string | undefined {
  const found = Object.entries(plan.tracks).find(([, { start, legs }]) => {
    const last = legs.at(-1);
    return [start, ...(last && "join" in last ? [last.join.to] : [])].some(
      (anchor) => "turntable" in anchor && anchor.turntable === id && anchor.stall === stall,
    );
  });
  return found && trackName(plan, found[0]);
}

/** Which ends of a track have a bumper, as one choice. */
export function bumperField(id: Id, bumpers: readonly ("start" | "end")[] = []): Field {
  const value = bumpers.length > 1 ? "both" : (bumpers[0] ?? "none");
  return choice<"none" | "start" | "end" | "both">(
    { id: "bumpers", label: "Bumper", value },
    [
      ["none", "none"],
      ["start", "at its start"],
      ["end", "at its end"],
      ["both", "at both ends"],
    ],
    (now, ends) =>
      amendRecord(
        now,
        "tracks",
        id,
        { bumpers: ends === "none" ? undefined : ends === "both" ? ["start", "end"] : [ends] },
        "Change bumpers",
      ),
  );
}

const UNSAID = "unsaid";

/** Where a gate turns or folds; a lift-out has no hinge. */
export function hingeFields(plan: Plan, id: Id): Field[] {
  const gate = recordAt(plan, "gates", id);
  if (!gate || gate.kind === "lift-out") return [];
  const corners = gate.outline.length;
  const swings = gate.kind === "swing";
  const named = (i: number) =>
    swings ? `corner ${i + 1}` : `side ${i + 1}, corners ${i + 1} and ${((i + 1) % corners) + 1}`;
  return [
    choice(
      {
        id: "hinge",
        label: swings ? "Turns about" : "Folds on",
        value: gate.hinge === undefined ? UNSAID : String(gate.hinge),
      },
      [[UNSAID, "not said"], ...gate.outline.map((_, i) => [String(i), named(i)] as const)],
      (now, hinge) =>
        amendRecord(now, "gates", id, { hinge: hinge === UNSAID ? undefined : Number(hinge) }, "Change hinge"),
    ),
  ];
}
