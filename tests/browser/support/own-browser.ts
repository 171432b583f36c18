/** A browser of one's own on a profile that outlives it, so that it can be killed as the system or a power cut kills it. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "@playwright/test";

export interface OwnBrowser {
  readonly page: Page;
  /** Ends every process of it at once; nothing in it is told. */
  kill(): Promise<void>;
}

export async function startOwnBrowser(profile: string, options: readonly string[]): Promise<OwnBrowser> {
  // Written anew by each browser: the last one's would lead nowhere.
  await rm(join(profile, "DevToolsActivePort"), { force: true });
  const path = process.env["RULING_GRADE_BROWSER"] ?? chromium.executablePath();
  const child = spawn(
    path,
    [...options, "--headless=new", `--user-data-dir=${profile}`, "--remote-debugging-port=0", "about:blank"],
    // A group of its own, to be killed as one.
    { detached: process.platform !== "win32", stdio: ["ignore", "ignore", "pipe"] },
  );
  const gone = once(child, "exit");
  // A test that is broken off leaves no browser behind.
  const clear = (): void => killGroup(child);
  process.once("exit", clear);
  const kill = async (): Promise<void> => {
    killGroup(child);
    await gone;
    process.off("exit", clear);
  };
  try {
    const browser: Browser = await chromium.connectOverCDP(await addressOf(child));
    const [context] = browser.contexts();
    if (!context) throw new Error("the browser has no window");
    const page = context.pages()[0] ?? (await context.newPage());
    await page.setViewportSize({ width: 1440, height: 900 });
    return { page, kill };
  } catch (error) {
    await kill();
    throw error;
  }
}

function killGroup({ pid, exitCode, signalCode }: ChildProcess): void {
  if (pid === undefined || exitCode !== null || signalCode !== null) return;
  process.kill(process.platform === "win32" ? pid : -pid, "SIGKILL");
}

/** Told on stderr when it listens. */
function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let told = "";
    child.stderr?.on("data", (part: Buffer) => {
      told += part.toString();
      const found = /DevTools listening on (ws:\S+)/.exec(told)?.[1];
      if (found !== undefined) resolve(found);
    });
    child.once("error", reject);
    child.once("exit", () => reject(new Error(`the browser ended by itself: ${told}`)));
  });
}
