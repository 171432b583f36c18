/** The page as a benchmark uses it: plans opened, track looked at and taken in hand, the moment of things told by the page itself. */
import type { Browser, Page } from "@playwright/test";
import { fit, panBy, toScreen, type Viewport, zoomAt } from "../src/drafting/viewport.js";
import { ROOM_MARGIN, roomBox } from "../src/editor/room-box.js";
import type { Point } from "../src/geometry/pose.js";
import type { Plan } from "../src/plan/schema.js";
import { writePlan } from "../src/plan/write.js";
import { type MainThread, readTrace, TRACED } from "./main-thread.js";

/** ms since the page was loaded, by its own clock. */
export interface Opening {
  /** From the file being there to its first drawing on the screen. */
  readonly drawn: number;
  /** And to all its readings. */
  readonly read: number;
}

export interface Desk {
  readonly page: Page;
  open(plan: Plan): Promise<Opening>;
  /** The whole room, or so many turns of the wheel closer to a point; answers where points of the sheet then are. */
  readonly look: (at?: Point, turns?: number) => Promise<(point: Point) => Point>;
  /** Waits until readings are of the plan shown. */
  readonly fresh: () => Promise<void>;
  /** From the next press of Enter to fresh readings, ms. */
  timeEnter(): Promise<() => Promise<number>>;
  readonly traced: (work: () => Promise<void>) => Promise<MainThread>;
  /** False where there is nothing to undo. */
  undo(): Promise<boolean>;
}

const WINDOW = { width: 1440, height: 900 } as const;
/** One turn of the wheel, px, and how much closer it brings the sheet. */
const TURN = 100;
const CLOSER = 1.25;

/** What the page writes down for the benchmark. */
interface Notes {
  opening?: { begun: number; drawn?: number };
  entered?: number;
}
declare global {
  var benchNotes: Notes;
}

/** Runs in the page before anything else. */
function takeNotes(): void {
  globalThis.benchNotes = {};
  for (const picker of ["showSaveFilePicker", "showOpenFilePicker"]) {
    Object.defineProperty(globalThis, picker, { value: undefined });
  }
  const read = Object.getOwnPropertyDescriptor(Blob.prototype, "text")?.value as (this: Blob) => Promise<string>;
  Blob.prototype.text = function () {
    const opening: NonNullable<Notes["opening"]> = { begun: performance.now() };
    globalThis.benchNotes.opening = opening;
    const title = document.querySelector("h1");
    const watcher = new MutationObserver(() => {
      watcher.disconnect();
      // The sheet is painted in the coming frame; a message is heard when that is over.
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.addEventListener("message", () => {
          opening.drawn = performance.now();
        });
        port1.start();
        port2.postMessage("");
      });
    });
    if (title) watcher.observe(title, { childList: true, characterData: true, subtree: true });
    return read.call(this);
  };
  addEventListener(
    "keydown",
    ({ key, timeStamp }) => {
      if (key === "Enter") globalThis.benchNotes.entered = timeStamp;
    },
    true,
  );
}

/** Runs in the page: when the readings are those of what is shown, once `begun` says that it is time to look. */
function whenFresh(what: "opening" | "entered" | "now"): Promise<number> {
  const begun = (): boolean => {
    const { opening, entered } = globalThis.benchNotes;
    return what === "now" || (what === "opening" ? opening?.drawn !== undefined : entered !== undefined);
  };
  return new Promise((resolve) => {
    const look = (): void => {
      const busy = document.querySelector("[aria-busy]")?.getAttribute("aria-busy");
      if (!begun() || busy !== "false") return;
      watcher.disconnect();
      clearInterval(asked);
      resolve(performance.now());
    };
    const watcher = new MutationObserver(look);
    watcher.observe(document.body, { subtree: true, attributes: true, attributeFilter: ["aria-busy"] });
    // For what was over before anybody looked.
    const asked = setInterval(look, 50);
  });
}

export async function openDesk(browser: Browser, address: string): Promise<Desk> {
  const page = await browser.newPage({ viewport: WINDOW, colorScheme: "light" });
  page.setDefaultTimeout(300_000);
  await page.addInitScript(takeNotes);
  await page.goto(address);
  await page.getByRole("region", { name: "Readings" }).getByRole("row").first().waitFor({ state: "attached" });
  const sheet = page.getByRole("application").first();
  const fresh = async (): Promise<void> => void (await page.evaluate(whenFresh, "now" as const));
  await fresh();
  let room: Plan | undefined;

  return {
    page,
    fresh,
    async open(plan) {
      const chooser = page.waitForEvent("filechooser");
      await page.getByRole("button", { name: "File", exact: true }).click();
      await page.getByRole("menuitem", { name: /^Open/ }).click();
      const chosen = await chooser;
      await page.evaluate(() => {
        delete globalThis.benchNotes.opening;
      });
      const buffer = Buffer.from(writePlan(plan));
      await chosen.setFiles({ name: "bench.plan.json", mimeType: "application/json", buffer });
      const read = await page.evaluate(whenFresh, "opening" as const);
      const { begun, drawn } = await page.evaluate(() => ({ begun: 0, drawn: 0, ...globalThis.benchNotes.opening }));
      room = plan;
      return { drawn: drawn - begun, read: read - begun };
    },
    async look(at, turns = 0) {
      if (!room) throw new Error("no plan is open");
      await sheet.press("Home");
      const box = await sheet.boundingBox();
      if (!box) throw new Error("there is no sheet");
      // The page counts its paper with the edge.
      const edge = await sheet.evaluate(({ parentElement: paper }) => {
        const outer = paper?.getBoundingClientRect();
        const inner = { width: paper?.clientWidth ?? 0, height: paper?.clientHeight ?? 0 };
        return {
          width: Math.floor(outer?.width ?? 0) - inner.width,
          height: Math.floor(outer?.height ?? 0) - inner.height,
        };
      });
      const { width, height } = { width: box.width + edge.width, height: box.height + edge.height };
      let view: Viewport = fit({ centre: { x: 0, y: 0 }, scale: 1, width, height }, roomBox(room), ROOM_MARGIN);
      const shown = (point: Point): Point => {
        const { x, y } = toScreen(view, point);
        return { x: box.x + x, y: box.y + y };
      };
      if (at) {
        // The browser tells the wheel's place in whole px, and magnifying would magnify what is lost.
        const held = { x: Math.round(shown(at).x), y: Math.round(shown(at).y) };
        await page.mouse.move(held.x, held.y);
        for (let turn = 0; turn < turns; turn++) {
          await page.mouse.wheel(0, -TURN);
          view = zoomAt(view, { x: held.x - box.x, y: held.y - box.y }, CLOSER);
        }
        // The place comes to the middle, held by the middle button.
        const middle = { x: Math.round(box.x + width / 2), y: Math.round(box.y + height / 2) };
        await page.mouse.down({ button: "middle" });
        await page.mouse.move(middle.x, middle.y, { steps: 2 });
        await page.mouse.up({ button: "middle" });
        view = panBy(view, middle.x - held.x, middle.y - held.y);
      }
      return shown;
    },
    async timeEnter() {
      await page.evaluate(() => {
        delete globalThis.benchNotes.entered;
      });
      return async () => {
        const read = await page.evaluate(whenFresh, "entered" as const);
        return read - (await page.evaluate(() => globalThis.benchNotes.entered ?? Number.NaN));
      };
    },
    async traced(work) {
      await browser.startTracing(page, { categories: TRACED });
      await work();
      return readTrace((await browser.stopTracing()).toString());
    },
    async undo() {
      const step = page.getByRole("button", { name: /^Undo:/ });
      if (!(await step.isVisible())) return false;
      await step.click();
      await fresh();
      return true;
    },
  };
}
