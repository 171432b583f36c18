/** One plan in several tabs, its versions, the shelf: nothing anyone did is lost, and nothing is written over. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { KEEP_AFTER, VERSION_EVERY } from "../../src/editor/files/keeper.js";
import { writePlan } from "../../src/plan/write.js";
import { Hub, MemoryShelf, openTab, plan, rest } from "./kept-support.js";

async function twoTabs() {
  const shelf = new MemoryShelf();
  const hub = new Hub();
  const first = openTab(shelf, { hub });
  first.retitle("First's");
  await first.pass(KEEP_AFTER);
  const second = openTab(shelf, { hub });
  await second.desk.openKept(first.id);
  return { shelf, hub, first, second };
}

const kinds = async (tab: ReturnType<typeof openTab>): Promise<string[]> =>
  (await tab.desk.versions()).map(({ kind, name }) => (name ? `${kind}: ${name}` : kind)).toReversed();

describe("two tabs", () => {
  test("the second opens to read, says so, and changes nothing", async () => {
    const { first, second, shelf } = await twoTabs();
    expect([second.id, second.title]).toEqual([first.id, "First's"]);
    expect(second.desk.state.getState().reading).toBe("elsewhere");
    expect(second.retitle("Second's")).toBe(false);
    expect([second.title, second.store.getState().said]).toEqual(["First's", expect.stringMatching(/only to read/)]);
    second.store.getState().undo();
    second.store.getState().preview({ ok: true, name: "x", plan: { ...plan, title: "Shown" } });
    expect(second.store.getState().plan.title).toBe("First's");
    await second.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["First's"]);
  });

  test("it takes over with all that was done in the first, which steps back and says so", async () => {
    const { first, second, shelf } = await twoTabs();
    first.retitle("Not kept yet");
    await second.desk.takeOver();
    expect([second.title, second.desk.state.getState().reading]).toEqual(["Not kept yet", undefined]);
    expect(first.desk.state.getState().reading).toBe("stepped-back");
    expect(first.retitle("Too late")).toBe(false);
    expect(second.retitle("Second's")).toBe(true);
    await second.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["Second's"]);
    // What came from the other tab is one step, and can be taken back.
    second.store.getState().undo();
    second.store.getState().undo();
    expect(second.title).toBe("First's");
    second.store.getState().redo();
    second.store.getState().redo();
    // And back again.
    await second.pass(KEEP_AFTER);
    await first.desk.takeOver();
    expect([first.title, first.retitle("First's again")]).toEqual(["Second's", true]);
  });

  test("a frozen tab that wakes up has its last work set aside, never written over the other's", async () => {
    const { first, second, shelf } = await twoTabs();
    first.retitle("Frozen in the act");
    first.holder.frozen = true;
    await second.desk.takeOver();
    expect(second.title).toBe("First's");
    second.retitle("Second's");
    await second.pass(KEEP_AFTER);
    await first.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["Second's"]);
    expect(first.desk.state.getState().reading).toBe("aside");
    expect(first.retitle("More")).toBe(false);
    expect(await kinds(second)).toContain("aside: Work of another tab");
    const aside = shelf.versionsOf.get(first.id)?.find(({ kind }) => kind === "aside");
    expect(aside?.title).toBe("Frozen in the act");
  });

  test("without locks the shelf alone keeps two tabs apart", async () => {
    const shelf = new MemoryShelf();
    const hub = new Hub(false);
    const first = openTab(shelf, { hub });
    first.retitle("First's");
    await first.pass(KEEP_AFTER);
    const second = openTab(shelf, { hub });
    await second.desk.openKept(first.id);
    expect(second.desk.state.getState().reading).toBeUndefined();
    second.retitle("Second's");
    await second.pass(KEEP_AFTER);
    first.retitle("First's again");
    await first.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["Second's"]);
    expect(first.desk.state.getState().reading).toBe("aside");
    expect(
      shelf.versionsOf
        .get(first.id)
        ?.filter(({ kind }) => kind === "aside")
        .map(({ title }) => title),
    ).toEqual(["First's again"]);
  });

  test("the file a plan was last saved to opens as that plan, to read while another tab has it", async () => {
    const shelf = new MemoryShelf();
    const hub = new Hub();
    const first = openTab(shelf, { hub });
    first.retitle("In a file");
    await first.desk.save();
    await rest();
    const text = first.downloads[0]?.text ?? "";
    const file = { name: "trial.plan.json", size: text.length, modified: 1, text: async () => text };
    const second = openTab(shelf, { hub });
    await second.desk.openFile(file);
    expect([second.id, second.desk.state.getState().reading]).toEqual([first.id, "elsewhere"]);
    first.die();
    const third = openTab(shelf, { hub });
    await third.desk.openFile(file);
    third.retitle("Worked on");
    await third.pass(KEEP_AFTER);
    expect([third.id, shelf.titles]).toEqual([first.id, ["Worked on"]]);
  });

  test("a thousand edits of two tabs that race, freeze and take over: each is in something kept", async () => {
    const moves = fc.array(
      fc.tuple(
        fc.nat(1),
        fc.oneof(
          { weight: 60, arbitrary: fc.constant("edit" as const) },
          { weight: 10, arbitrary: fc.constant("take over" as const) },
          { weight: 12, arbitrary: fc.constant("pass" as const) },
          { weight: 3, arbitrary: fc.constant("freeze" as const) },
          { weight: 3, arbitrary: fc.constant("thaw" as const) },
          { weight: 2, arbitrary: fc.constant("clock back" as const) },
          { weight: 4, arbitrary: fc.constant("named" as const) },
        ),
        fc.boolean(),
      ),
      { minLength: 250, maxLength: 250, size: "max" },
    );
    let total = 0;
    await fc.assert(
      fc.asyncProperty(moves, fc.boolean(), async (all, locks) => {
        const shelf = new MemoryShelf();
        const hub = new Hub(locks);
        const [first, second] = [openTab(shelf, { hub }), openTab(shelf, { hub })];
        const tabs = [first, second] as const;
        first.retitle("0");
        await first.pass(KEEP_AFTER);
        await second.desk.openKept(first.id);
        const done: string[] = ["0"];
        for (const [which, move, at] of all) {
          const tab = tabs[which] ?? first;
          if (tab.holder.frozen && move !== "thaw" && move !== "clock back") continue;
          // Every edit adds itself to what was there, so that a later version holds the earlier edits.
          if (move === "edit") {
            const mark = `${done.length}`;
            if (tab.retitle(`${tab.title} ${mark}`)) done.push(mark);
          } else if (move === "take over") {
            const taking = tab.desk.takeOver();
            // Some go on while it is on its way.
            if (at) await taking;
            else await Promise.all([taking, rest()]);
          } else if (move === "pass") await tab.pass(at ? KEEP_AFTER : VERSION_EVERY);
          else if (move === "freeze") tab.holder.frozen = true;
          else if (move === "thaw") tab.holder.frozen = false;
          else if (move === "clock back") tab.setClock(at ? 0 : 9e12);
          else await tab.desk.keepVersion(`Mark ${done.length}`);
        }
        for (const tab of tabs) {
          tab.holder.frozen = false;
          await tab.pass(KEEP_AFTER);
        }
        await rest();
        const kept = [...shelf.kept.values(), ...[...shelf.versionsOf.values()].flat()].map(({ title }) =>
          title.split(" "),
        );
        const held = new Set(kept.flat());
        expect(done.filter((mark) => !held.has(mark))).toEqual([]);
        expect(shelf.kept.size).toBe(1);
        total += done.length;
      }),
      { seed: 6, numRuns: 20 },
    );
    expect(total).toBeGreaterThan(1000);
  }, 60_000);
});

describe("versions", () => {
  test("as it was opened, named, saved, and by itself every so often", async () => {
    const tab = openTab(new MemoryShelf());
    tab.retitle("One");
    await tab.pass(KEEP_AFTER);
    expect(await kinds(tab)).toEqual(["opened"]);
    await tab.desk.keepVersion("Before the helix");
    tab.retitle("Two");
    await tab.pass(KEEP_AFTER);
    expect(await kinds(tab)).toEqual(["opened", "named: Before the helix"]);
    tab.retitle("Three");
    await tab.pass(VERSION_EVERY);
    expect(await kinds(tab)).toEqual(["opened", "named: Before the helix", "automatic"]);
    await tab.desk.save();
    await rest();
    expect(await kinds(tab)).toEqual(
      ["opened", "named: Before the helix", "automatic", "saved: trial.plan.json"].map((k) =>
        k.replace("trial", "three"),
      ),
    );
    // Saved again without a change: nothing new to keep.
    await tab.desk.save();
    await rest();
    expect((await kinds(tab)).length).toBe(4);
  });

  test("one is looked at without changing the plan, and brought back as one step", async () => {
    const tab = openTab(new MemoryShelf());
    tab.retitle("One");
    await tab.pass(KEEP_AFTER);
    await tab.desk.keepVersion("First try");
    tab.retitle("Two");
    const named = (await tab.desk.versions()).find(({ kind }) => kind === "named");
    if (!named) throw new Error("it was kept");
    await tab.desk.view(named);
    expect([tab.store.getState().plan.title, tab.title]).toEqual(["One", "Two"]);
    expect(tab.retitle("While looking")).toBe(false);
    await tab.desk.view(undefined);
    expect([tab.store.getState().plan.title, tab.store.getState().locked]).toEqual(["Two", undefined]);
    await tab.desk.view(named);
    expect(await tab.desk.bringBack(named)).toBe(true);
    expect([tab.title, tab.desk.state.getState().viewing]).toEqual(["One", undefined]);
    // The present was kept first.
    expect((await tab.desk.versions())[0]?.title).toBe("Two");
    tab.store.getState().undo();
    expect(tab.title).toBe("Two");
    tab.store.getState().redo();
    await tab.pass(KEEP_AFTER);
    expect(tab.title).toBe("One");
  });

  test("a clock set back lets no older work win", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.retitle("One");
    await tab.pass(KEEP_AFTER);
    tab.setClock(-1e9);
    tab.retitle("Two");
    await tab.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["Two"]);
    tab.die();
    const again = openTab(shelf);
    await again.desk.lookBehind();
    await again.desk.openKept(tab.id);
    expect(again.title).toBe("Two");
    expect((await again.desk.versions()).map(({ number }) => number)).toEqual([2, 1]);
  });

  test("the browser is asked once to throw nothing away, at the first save", async () => {
    let asked = 0;
    const persist = async (): Promise<boolean> => {
      asked++;
      return false;
    };
    const tab = openTab(new MemoryShelf(), { persist });
    tab.retitle("One");
    await tab.pass(KEEP_AFTER);
    expect(asked).toBe(0);
    await tab.desk.save();
    await tab.desk.keepVersion("");
    await rest();
    expect([asked, tab.desk.state.getState().persisted]).toEqual([1, false]);
  });

  test("work thrown away by the browser is kept again, and said", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.retitle("One");
    await tab.pass(KEEP_AFTER);
    shelf.kept.clear();
    tab.retitle("Two");
    await tab.pass(KEEP_AFTER);
    expect(tab.desk.state.getState().trouble).toMatch(/thrown away/);
    expect(shelf.titles).toEqual(["Two"]);
  });
});

describe("the shelf of plans", () => {
  test("is listed, opened, duplicated and thrown away from", async () => {
    const shelf = new MemoryShelf();
    const hub = new Hub();
    const tab = openTab(shelf, { hub });
    tab.retitle("Attic");
    await tab.desk.keepVersion("");
    const attic = tab.id;
    tab.desk.newPlan({ title: "Cellar", width: 4000, depth: 3000, scale: "N", units: "metric" });
    tab.retitle("Cellar, deeper");
    await tab.pass(KEEP_AFTER);
    await tab.desk.duplicate(attic);
    const names = async () =>
      (await tab.desk.shelved()).map(({ title, held }) => `${title}${held ? " (open)" : ""}`).sort();
    expect(await names()).toEqual(["Attic", "Attic, copy", "Cellar, deeper (open)"]);
    expect((await tab.desk.shelved()).find(({ id }) => id === attic)?.look?.tracks).toBe(0);
    await tab.desk.openKept(attic);
    await rest();
    expect(tab.title).toBe("Attic");
    expect(await names()).toEqual(["Attic (open)", "Attic, copy", "Cellar, deeper"]);
    const copy = (await tab.desk.shelved()).find(({ title }) => title === "Attic, copy");
    await tab.desk.forget(copy?.id ?? "");
    expect(await names()).toEqual(["Attic (open)", "Cellar, deeper"]);
  });

  test("a sample that is only looked at is not on it", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.desk.openText(writePlan({ ...plan, title: "Sample" }), "sample.plan.json");
    await tab.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual([]);
  });
});
