import { describe, expect, it } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { deriveTrackwork } from "../../src/layout/trackwork.js";
import { planSchema } from "../../src/plan/schema.js";
import { networkFaults } from "./network-walk.js";
import { randomPlan } from "./random-plan.js";

const PLANS = 1000;

/** Where in a value a number is not finite; identities are followed once. */
function notFinite(value: unknown, path: string, seen: Set<object>): string | undefined {
  if (typeof value === "number") return Number.isFinite(value) ? undefined : path;
  if (typeof value !== "object" || value === null || seen.has(value)) return undefined;
  seen.add(value);
  if (value instanceof Float64Array) {
    const bad = value.findIndex((x) => !Number.isFinite(x));
    return bad < 0 ? undefined : `${path}[${bad}]`;
  }
  const entries: Iterable<readonly [unknown, unknown]> = value instanceof Map ? value : Object.entries(value);
  for (const [key, item] of entries) {
    const bad = notFinite(item, `${path}.${String(key)}`, seen);
    if (bad !== undefined) return bad;
  }
  return undefined;
}

function faultsOf(layout: Layout): string[] {
  const { lines, profiles, meetings, crossings, network, turnouts, hidden, findings } = layout;
  const bad = notFinite(
    { lines, profiles, meetings, crossings, network, turnouts, hidden, findings },
    "layout",
    new Set(),
  );
  const lengths = new Map([...lines.values()].map((line) => [line.key, line.path.length]));
  const faults = networkFaults(network, lengths);
  if (bad !== undefined) faults.push(`not finite: ${bad}`);
  for (const key of lines.keys()) if (!profiles.has(key)) faults.push(`no profile of ${key}`);
  for (const { line, from, to } of hidden)
    if (!(from < to && to <= (lengths.get(line) ?? 0))) faults.push(`hidden ${line}`);
  for (const { joint, departs, heel, host } of turnouts.values()) {
    for (const s of [joint, departs, heel])
      if (!(s >= 0 && s <= (lengths.get(host) ?? 0))) faults.push(`turnout on ${host}`);
  }
  return faults;
}

/** Every record in hand has its line, comes to no length, or is named in a finding. */
function unaccounted({ plan, lines, findings }: Layout): string[] {
  const inHand = (record: { readonly option?: string | undefined }) => !record.option || record.option === plan.option;
  const told = (thing: string) => findings.some((f) => f.thing === thing || f.thing.startsWith(`${thing}.`));
  const { traces } = deriveTrackwork(plan);
  const tracks = Object.entries(plan.tracks).filter(([id, t]) => {
    return inHand(t) && traces.get(id)?.legStations.at(-1) !== 0 && !lines.has(`track:${id}`) && !told(`tracks.${id}`);
  });
  const turnouts = Object.entries(plan.turnouts).filter(([id, t]) => {
    const line = t.hand === "wye" ? (`turnout:${id}:left` as const) : (`turnout:${id}` as const);
    return inHand(t) && !lines.has(line) && !told(`turnouts.${id}`);
  });
  return [...tracks, ...turnouts].map(([id]) => id);
}

describe("a thousand plans of chance", () => {
  it("are valid plans, and of every kind of leg, anchor and finding", () => {
    const seen = new Set<string>();
    for (let seed = 0; seed < PLANS; seed += 10) {
      const plan = randomPlan(seed);
      expect(planSchema.safeParse(plan).error?.issues).toBeUndefined();
      for (const { legs, start } of Object.values(plan.tracks)) {
        for (const leg of legs) seen.add(`leg ${Object.keys(leg)[0]}`);
        seen.add(`start ${Object.keys(start)[0]}`);
      }
      const layout = deriveLayout(plan);
      for (const { kind } of layout.findings) seen.add(kind);
      for (const { kind } of layout.lines.values()) seen.add(`line ${kind}`);
      for (const { kind } of layout.network.nodes.values()) seen.add(`node ${kind}`);
    }
    for (const kind of ["straight", "curve", "toward", "join", "beside", "flex"]) expect(seen).toContain(`leg ${kind}`);
    for (const kind of ["pose", "turnout", "track", "beside", "turntable"]) expect(seen).toContain(`start ${kind}`);
    for (const kind of [
      "leg-unsolved",
      "anchor-missing",
      "anchor-circular",
      "turnout-off-track",
      "turnout-unknown",
      "pin-off-track",
      "beside-gap",
      "slip-unfit",
      "turntable-unfit",
      "line slip",
      "node turntable",
    ])
      expect(seen).toContain(kind);
  });

  it.each(Array.from({ length: 10 }, (_, i) => i))(
    "resolve without a throw or a number that is none, part %d of 10",
    (part) => {
      let lines = 0;
      for (let seed = part; seed < PLANS; seed += 10) {
        const layout = deriveLayout(randomPlan(seed));
        expect(faultsOf(layout), `seed ${seed}`).toEqual([]);
        expect(unaccounted(layout), `seed ${seed}`).toEqual([]);
        lines += layout.lines.size;
      }
      expect(lines).toBeGreaterThan(200);
    },
  );
});
