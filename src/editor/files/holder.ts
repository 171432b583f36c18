/**
 * Which tab works on a document: one holds it, others may read it, ask for it, and have it when the holder has kept
 * everything. A tab that does not answer, being frozen, loses it; the shelf refuses what it writes afterwards.
 */
export interface Holder {
  /** Holds a document if no other tab does; this tab may hold it already. */
  tryHold(id: string): Promise<boolean>;
  letGo(id: string): void;
  /** Asks whoever holds it to step back, and holds it then; who does not answer has it taken away. */
  takeOver(id: string): Promise<void>;
  /** Ids of the documents that tabs hold; empty where that cannot be known. */
  held(): Promise<ReadonlySet<string>>;
  /** What to do when another tab asks: keep everything and change nothing more. It is let go of after that. */
  onAsked(stepBack: (id: string) => Promise<void>): void;
  /** Told when it was taken away unasked. */
  onTaken(taken: (id: string) => void): void;
}

/** ms; the holder has to write a plan in that time, and a tab in the background is woken slowly. */
export const PATIENCE = 3000;
/** ms; other tabs answer at once or not at all. */
const ANSWERS_WITHIN = 200;
const NAME = "ruling-grade document ";
const CHANNEL = "ruling-grade";

interface Message {
  readonly say: "step back" | "let go" | "who holds" | "hold";
  readonly id: string;
}

const isMessage = (data: unknown): data is Message =>
  typeof data === "object" && data !== null && "say" in data && "id" in data && typeof data.id === "string";

export const browserHolder = (): Holder => tabHolder("locks" in navigator ? navigator.locks : undefined, openChannel());

const openChannel = (): BroadcastChannel | undefined =>
  "BroadcastChannel" in globalThis ? new BroadcastChannel(CHANNEL) : undefined;

/** Locks where the browser has them; else tabs ask one another; where they cannot do that either, the shelf alone decides. */
export function tabHolder(locks: LockManager | undefined, channel: BroadcastChannel | undefined): Holder {
  /** What this tab holds, and how it lets go. */
  const mine = new Map<string, () => void>();
  let stepBack: (id: string) => Promise<void> = async () => undefined;
  let taken: (id: string) => void = () => undefined;
  const heard = new Set<(message: Message) => void>();
  const say = (message: Message): void => channel?.postMessage(message);

  channel?.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
    if (!isMessage(data)) return;
    for (const hear of heard) hear(data);
    if (data.say === "who holds") {
      for (const id of mine.keys()) if (data.id === "" || data.id === id) say({ say: "hold", id });
    } else if (data.say === "step back" && mine.has(data.id)) {
      const { id } = data;
      void stepBack(id).finally(() => letGo(id));
    }
  });

  const letGo = (id: string): void => {
    mine.get(id)?.();
    mine.delete(id);
    say({ say: "let go", id });
  };

  /** Ids other tabs say they hold. */
  const asked = (id: string): Promise<Set<string>> =>
    new Promise((resolve) => {
      const ids = new Set<string>();
      if (!channel) return resolve(ids);
      const hear = (message: Message): void => void (message.say === "hold" && ids.add(message.id));
      heard.add(hear);
      say({ say: "who holds", id });
      setTimeout(() => {
        heard.delete(hear);
        resolve(ids);
      }, ANSWERS_WITHIN);
    });

  /** Whether it was let go of before patience ended. */
  const waited = (id: string): Promise<boolean> =>
    new Promise((resolve) => {
      if (!channel) return resolve(false);
      const end = (well: boolean): void => {
        heard.delete(hear);
        clearTimeout(timer);
        resolve(well);
      };
      const hear = (message: Message): void => void (message.say === "let go" && message.id === id && end(true));
      const timer = setTimeout(() => end(false), PATIENCE);
      heard.add(hear);
    });

  const lock = (manager: LockManager, id: string, how: LockOptions): Promise<boolean> =>
    new Promise((resolve) => {
      manager
        .request(NAME + id, how, (granted) => {
          resolve(granted !== null);
          if (!granted) return undefined;
          return new Promise<void>((release) => mine.set(id, release));
        })
        .catch(() => {
          // Taken away, or refused from the start: then there is nothing to hold it by, and the shelf decides.
          const had = mine.delete(id);
          resolve(true);
          if (had) taken(id);
        });
    });

  return {
    async tryHold(id) {
      if (mine.has(id)) return true;
      if (locks) return lock(locks, id, { ifAvailable: true });
      if ((await asked(id)).has(id)) return false;
      mine.set(id, () => undefined);
      return true;
    },
    letGo,
    async takeOver(id) {
      if (mine.has(id)) return;
      const free = waited(id);
      say({ say: "step back", id });
      await free;
      if (!locks) return void mine.set(id, () => undefined);
      if (!(await lock(locks, id, { ifAvailable: true }))) await lock(locks, id, { steal: true });
    },
    async held() {
      if (!locks) return new Set([...(await asked("")), ...mine.keys()]);
      const { held = [] } = await locks.query();
      return new Set(held.flatMap(({ name }) => (name?.startsWith(NAME) === true ? [name.slice(NAME.length)] : [])));
    },
    onAsked(work) {
      stepBack = work;
    },
    onTaken(work) {
      taken = work;
    },
  };
}
