/** The page to look at: whole in one file, everything on it, and no name is ever markup. Real browsers open it in tests/browser. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { grouped } from "../../src/exchange/readings-text.js";
import { drawWebPage } from "../../src/exchange/web-page.js";
import { SCRIPT, SCRIPT_HASH } from "../../src/exchange/web-page/script.js";
import { STYLE, STYLE_HASH } from "../../src/exchange/web-page/style.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { takeReadings } from "../../src/readings/take.js";
import { randomPlan } from "../layout/random-plan.js";
import { hillPlan, hostileName } from "./hill-plan.js";

function pageOf(plan: Plan, options: Parameters<typeof drawWebPage>[2] = {}): string {
  const layout = deriveLayout(plan);
  return drawWebPage(layout, takeReadings(plan, layout), options);
}

interface Tag {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly text: string;
}

/** Reads the page's tags strictly: quoted attributes, each tag closed in its turn; a stray `<` or `"` anywhere fails. */
function tagsOf(html: string): Tag[] {
  const tags: (Tag & { text: string })[] = [];
  const open: string[] = [];
  const token = /<!doctype html>|<\/([a-z0-9]+)>|<([a-zA-Z0-9]+)((?: [a-zA-Z0-9:-]+="[^"<>]*")*)(\/?)>|([^<]+)/y;
  while (token.lastIndex < html.length) {
    const at = token.lastIndex;
    const found = token.exec(html);
    if (!found) throw new Error(`not well formed at ${JSON.stringify(html.slice(at, at + 80))}`);
    const [, closed, opened, attributes = "", empty, text] = found;
    if (closed && open.pop() !== closed) throw new Error(`</${closed}> closes nothing`);
    const last = tags.at(-1);
    if (text && last && open.length > 0) last.text += text;
    if (!opened) continue;
    const pairs = [...attributes.matchAll(/ ([a-zA-Z0-9:-]+)="([^"]*)"/g)].map(
      (m) => [m[1] ?? "", m[2] ?? ""] as const,
    );
    tags.push({ name: opened, attributes: new Map(pairs), text: "" });
    if (empty) continue;
    open.push(opened);
    if (opened !== "script" && opened !== "style") continue;
    // Their text is not markup, and ends at their own end tag.
    const end = html.indexOf(`</${opened}>`, token.lastIndex);
    const own = tags.at(-1);
    if (own) own.text = html.slice(token.lastIndex, end);
    token.lastIndex = end;
  }
  expect(open).toEqual([]);
  return tags;
}

const sha256 = (text: string): string => createHash("sha256").update(text, "utf8").digest("base64");
const named = (plan: Plan, name: string): Plan => {
  const all = <T extends object>(records: Readonly<Record<string, T>>, key: string): Record<string, T> =>
    Object.fromEntries(Object.entries(records).map(([id, record]) => [id, { ...record, [key]: name }]));
  return {
    ...plan,
    title: name,
    decks: all(plan.decks, "name"),
    tracks: all(plan.tracks, "name"),
    labels: all(plan.labels, "text"),
    room: { ...plan.room, obstacles: all(plan.room.obstacles, "name") },
    accepted: { "track-spacing": { reason: name } } as never,
  };
};

describe("the page", () => {
  it("lets run and look only what has the hash in its policy, and that is what it holds", () => {
    expect(SCRIPT_HASH).toBe(sha256(SCRIPT));
    expect(STYLE_HASH).toBe(sha256(STYLE));
    for (const text of [SCRIPT, STYLE]) expect(text).not.toMatch(/<\/|<!--/);
    const tags = tagsOf(pageOf(hillPlan));
    const policy = tags.find(({ attributes }) => attributes.get("http-equiv") === "Content-Security-Policy");
    expect(policy?.attributes.get("content")?.replaceAll("&#39;", "'").split("; ")).toEqual([
      "default-src 'none'",
      `script-src 'sha256-${sha256(SCRIPT)}'`,
      `style-src 'sha256-${sha256(STYLE)}'`,
      "base-uri 'none'",
      "form-action 'none'",
    ]);
    expect(tags.filter(({ name }) => name === "script").map(({ text }) => text)).toEqual([SCRIPT]);
    expect(tags.filter(({ name }) => name === "style").map(({ text }) => text)).toEqual([STYLE]);
    // The policy stands before what it is for.
    expect(tags.slice(0, 4).map(({ name }) => name)).toEqual(["html", "head", "meta", "meta"]);
  });

  it("asks nothing of anywhere", () => {
    const tags = tagsOf(pageOf(hillPlan));
    const names = new Set(tags.map(({ name }) => name));
    for (const asks of ["a", "img", "image", "use", "link", "iframe", "object", "embed", "form", "base"]) {
      expect(names).not.toContain(asks);
    }
    const pairs = tags.flatMap(({ attributes }) => [...attributes]);
    const keys = new Set(pairs.map(([key]) => key));
    for (const asks of ["src", "href", "xlink:href", "action", "style", "srcdoc", "background", "poster", "data"]) {
      expect(keys).not.toContain(asks);
    }
    expect([...keys].filter((key) => key.startsWith("on"))).toEqual([]);
    expect(pairs.filter(([, value]) => /url\((?!#)/.test(value))).toEqual([]);
    expect(`${SCRIPT}${STYLE}`).not.toMatch(/https?:|\bfetch\b|XMLHttp|\bimport\b|eval|Function\(|url\(/);
  });

  it("holds every deck's drawing with every line, a button for each, the profile, and every reading", () => {
    const layout = deriveLayout(hillPlan);
    const readings = takeReadings(hillPlan, layout);
    const tags = tagsOf(drawWebPage(layout, readings));
    const lines = new Set(tags.flatMap(({ attributes }) => attributes.get("data-line") ?? []));
    expect(lines).toEqual(new Set(layout.lines.keys()));
    const decks = tags.filter(({ name, attributes }) => name === "button" && attributes.has("data-deck"));
    expect(decks.map(({ text, attributes }) => [text, attributes.get("aria-pressed")])).toEqual([
      ["Hillfoot", "true"],
      ["Hilltop", "false"],
    ]);
    expect(tags.filter(({ name }) => name === "figure").length).toBe(2);
    expect(tags.filter(({ name }) => name === "svg").length).toBe(3);
    expect(tags.find(({ attributes }) => attributes.get("id") === "profile")?.text).toBe(
      "Profile, Hillfoot to Hilltop",
    );
    const rows = tags.filter(({ attributes }) => attributes.get("scope") === "row").map(({ text }) => text);
    expect(rows).toEqual(
      grouped(readings).flatMap((group) => group.readings.map(({ label }) => label.replaceAll("&", "&amp;"))),
    );
    expect(tags.find(({ name }) => name === "h1")?.text).toBe("Hillfoot &amp; Hilltop");
    // No two things of one name.
    const ids = tags.flatMap(({ attributes }) => attributes.get("id") ?? []);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("shows the deck asked for first, at night where asked", () => {
    const tags = tagsOf(pageOf(hillPlan, { deck: "top", theme: "dark" }));
    expect(tags.find(({ attributes }) => attributes.get("aria-pressed") === "true")?.text).toBe("Hilltop");
    expect(tags[0]?.attributes.get("data-theme")).toBe("dark");
  });

  it("is the same every time", () => expect(pageOf(hillPlan)).toBe(pageOf(hillPlan)));

  it.each([
    hostileName,
    "</script><script>alert(1)</script>",
    "</style></title><img src=x onerror=alert(1)>",
    `"><svg onload='alert(1)'>`,
    "--><!-- \u0000 & &lt; ]]>",
  ])("takes the name %j as a name", (name) => {
    const tame = tagsOf(pageOf(named(hillPlan, "n".repeat([...name].length))));
    const wild = tagsOf(pageOf(named(hillPlan, name)));
    const shape = (tags: readonly Tag[]) =>
      tags.filter((tag) => !["rect", "path"].includes(tag.name)).map((tag) => tag.name);
    expect(new Set(wild.map((tag) => tag.name))).toEqual(new Set(tame.map((tag) => tag.name)));
    expect(shape(wild).filter((tag) => ["script", "style", "svg", "section", "button", "tr"].includes(tag))).toEqual(
      shape(tame).filter((tag) => ["script", "style", "svg", "section", "button", "tr"].includes(tag)),
    );
    expect(wild.filter((tag) => tag.name === "script").map(({ text }) => text)).toEqual([SCRIPT]);
  });

  it("is made of any plan: an empty one, plans of chance, a sample", () => {
    const empty = emptyPlan({ title: "", width: 4000, depth: 3000, scale: "HO", units: "metric" });
    expect(tagsOf(pageOf({ ...empty, decks: {} })).find(({ name }) => name === "h1")?.text).toBe("Untitled plan");
    for (let seed = 0; seed < 4; seed++) expect(tagsOf(pageOf(randomPlan(seed))).length).toBeGreaterThan(30);
    const read = readPlan(readFileSync("sample-plans/larkmoor-and-summit.plan.json", "utf8"));
    if (!read.ok) throw new Error("the sample cannot be read");
    // Small enough for any mail.
    expect(pageOf(read.plan).length).toBeLessThan(1_000_000);
  });
});
