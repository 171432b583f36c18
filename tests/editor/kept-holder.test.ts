/** Who works on a document, asked between tabs by real messages, in a browser with and without locks. */
import { afterEach, describe, expect, test } from "vitest";
import { type Holder, tabHolder } from "../../src/editor/files/holder.js";

/** Node has the channels of a browser. */
const open: BroadcastChannel[] = [];
afterEach(() => {
  for (const channel of open.splice(0)) channel.close();
});
function channel(): BroadcastChannel {
  const made = new BroadcastChannel("kept-holder test");
  open.push(made);
  return made;
}

/** Locks as the standard has them, as far as they are used: exclusive ones, asked for at once or stolen. */
function lockManager(): LockManager {
  const held = new Map<string, { readonly name: string; readonly broken: (why: Error) => void }>();
  const request = async (name: string, how: LockOptions, work: (lock: Lock | null) => unknown): Promise<unknown> => {
    const there = held.get(name);
    if (there && !how.steal) return work(null);
    there?.broken(new DOMException("stolen", "AbortError"));
    return new Promise((resolve, reject) => {
      const own = { name, broken: reject };
      held.set(name, own);
      const free = (): void => void (held.get(name) === own && held.delete(name));
      void Promise.resolve(work({ name, mode: "exclusive" }))
        .then(resolve)
        .finally(free);
    });
  };
  const query = async () => ({ held: [...held.keys()].map((name) => ({ name })) });
  return { request, query } as unknown as LockManager;
}

describe.each([
  ["locks", true],
  ["messages alone", false],
])("with %s", (_name, locks) => {
  const tabs = (): [Holder, Holder] => {
    const manager = locks ? lockManager() : undefined;
    return [tabHolder(manager, channel()), tabHolder(manager, channel())];
  };

  test("one tab holds a document, until it lets go", async () => {
    const [first, second] = tabs();
    expect([await first.tryHold("a"), await second.tryHold("a"), await second.tryHold("b")]).toEqual([
      true,
      false,
      true,
    ]);
    expect(await first.tryHold("a")).toBe(true);
    expect([...(await second.held())].sort()).toEqual(["a", "b"]);
    first.letGo("a");
    // A lock is free a moment after it was let go of.
    await new Promise((resolve) => setTimeout(resolve));
    expect(await second.tryHold("a")).toBe(true);
  });

  test("who is asked keeps everything first, then lets go", async () => {
    const [first, second] = tabs();
    await first.tryHold("a");
    const order: string[] = [];
    first.onAsked(async (id) => {
      order.push(`asked for ${id}`);
      await new Promise((resolve) => setTimeout(resolve, 20));
      order.push("kept");
    });
    await second.takeOver("a");
    order.push("taken over");
    expect(order).toEqual(["asked for a", "kept", "taken over"]);
    expect(await first.tryHold("a")).toBe(false);
  });
});

test("who does not answer has it taken away, and is told", async () => {
  const manager = lockManager();
  // Without a channel nobody can be asked.
  const [first, second] = [tabHolder(manager, undefined), tabHolder(manager, undefined)];
  await first.tryHold("a");
  const taken: string[] = [];
  first.onTaken((id) => void taken.push(id));
  await second.takeOver("a");
  expect(taken).toEqual(["a"]);
  expect(await first.tryHold("a")).toBe(false);
});
