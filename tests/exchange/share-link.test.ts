/** A plan in a link: what goes in comes out, and nothing that comes in can do harm. */
import { deflateRawSync, inflateRawSync } from "node:zlib";
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hallPlan } from "../../bench/plans.js";
import { hasPlan, linkFragment, LONGEST_LINK, MOST_LETTERS, planOfLink } from "../../src/exchange/share-link.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { MOST_TEXT, readPlan } from "../../src/plan/read.js";
import { randomPlan } from "../layout/random-plan.js";

const shelf = emptyPlan({ title: "Ått & <b>loft</b>", width: 4000, depth: 3000, scale: "HO", units: "metric" });
const fragmentOf = (plan: Parameters<typeof linkFragment>[0]): string => {
  const link = linkFragment(plan);
  if (!link.ok) throw new Error(link.message);
  return link.fragment;
};
/** Base64url by the other library. */
const packed = (text: string | Uint8Array): string => `plan=1.${deflateRawSync(text).toString("base64url")}`;
const messages = (hash: string): string[] => {
  const read = planOfLink(hash);
  expect(read.ok).toBe(false);
  return read.report.problems.map(({ message }) => message);
};

describe("a plan in a link", () => {
  it("comes out as it went in", () => {
    const read = planOfLink(`#${fragmentOf(shelf)}`);
    expect(read.ok && read.plan).toEqual(shelf);
    expect(read.report.problems).toEqual([]);
  });

  it("comes out as it went in, whatever the plan", () => {
    let whole = 0;
    for (let seed = 0; seed < 60; seed++) {
      const plan = randomPlan(seed);
      const link = linkFragment(plan);
      if (!link.ok) continue;
      whole++;
      const read = planOfLink(link.fragment);
      expect(read.ok && read.plan, `seed ${seed}`).toEqual(JSON.parse(JSON.stringify(plan)));
    }
    expect(whole).toBeGreaterThan(30);
  });

  it("is written as the standards say: another library unfolds it", () => {
    const text = inflateRawSync(Buffer.from(fragmentOf(shelf).slice("plan=1.".length), "base64url")).toString();
    expect(JSON.parse(text)).toMatchObject({ title: shelf.title });
    const read = planOfLink(packed(text));
    expect(read.ok && read.plan).toEqual(shelf);
  });

  it("takes only letters that an address takes as they are", () => {
    expect(fragmentOf(shelf)).toMatch(/^plan=1\.[\w-]+$/);
    expect(encodeURI(fragmentOf(shelf))).toBe(fragmentOf(shelf));
  });

  it.each(readdirSync("sample-plans").filter((name) => name.endsWith(".plan.json")))(
    "holds %s, or says its length",
    (name) => {
      const read = readPlan(readFileSync(`sample-plans/${name}`, "utf8"), name);
      if (!read.ok) throw new Error(name);
      const link = linkFragment(read.plan, "https://planner.example/");
      expect(link.ok || (link.length > LONGEST_LINK && link.message.includes("send the file"))).toBe(true);
      if (link.ok) expect(link.fragment.length).toBeLessThanOrEqual(LONGEST_LINK);
    },
  );

  it("is refused with the file's name for it where it is too long", () => {
    const link = linkFragment(hallPlan(400));
    expect(link).toMatchObject({ ok: false });
    expect(!link.ok && link.message).toMatch(/^the plan would make a link of \d+ letters, .*: send the file instead$/);
  });
});

describe("a link from anyone", () => {
  it.each([
    ["", /no plan/],
    ["#", /no plan/],
    ["#room", /no plan/],
    ["#plan=2.AAAA", /newer version/],
    ["#plan=1.", /cut off/],
    ["#plan=1.A", /changed on its way/],
    ["#plan=1.AAA%20", /changed on its way/],
    ["#plan=1.____", /unfolded|too early/],
    [`#${packed("")}`, /the text is empty/],
    [`#${packed("no plan at all")}`, /line 1/],
    [`#${packed('{"format":"else"}')}`, /no plan file/],
  ])("%j is told what is wrong with it", (hash, message) => {
    expect(messages(hash).join("; ")).toMatch(message);
  });

  it("cut off anywhere, or with a letter changed, is refused or read, never thrown over", () => {
    const whole = fragmentOf(shelf);
    for (let cut = "plan=1.".length; cut < whole.length; cut += 7)
      expect(planOfLink(whole.slice(0, cut)).ok).toBe(false);
    fc.assert(
      fc.property(fc.integer({ min: 7, max: whole.length - 1 }), fc.constantFrom(..."AZaz09-_"), (at, letter) => {
        const read = planOfLink(whole.slice(0, at) + letter + whole.slice(at + 1));
        expect(typeof read.ok).toBe("boolean");
      }),
      { numRuns: 400, seed: 6 },
    );
  });

  it("that unfolds without end is stopped", () => {
    // A thousandfold: 40 MB from some 40,000 letters.
    const bomb = packed(Buffer.alloc(2 * MOST_TEXT, 32));
    expect(bomb.length).toBeLessThan(MOST_LETTERS);
    expect(messages(bomb)).toEqual([`the link unfolds to more than ${MOST_TEXT} letters`]);
  });

  it("with more letters than any is not begun with", () => {
    expect(messages(`plan=1.${"A".repeat(MOST_LETTERS + 1)}`).join()).toMatch(/too many for a link/);
  });

  it("is only looked at where it says that it carries a plan", () => {
    expect([hasPlan("#plan=1.x"), hasPlan("plan=9"), hasPlan("#section"), hasPlan("")]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});
