/**
 * What the page's main thread did, from the browser's own trace: script per frame and the length of every task.
 *
 * Always holds: script is counted once however deep its calls nest; a frame is what lies between two frames the browser
 * begins; nothing outside the page's own main thread is counted.
 */

/** As the trace event format has it; times in microseconds. */
interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly dur?: number;
  /** Of the processor, without what others took of it. */
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/** All in ms. */
export interface MainThread {
  /** Script in each frame that had at least `SCRIPT_LEAST` ms of it, by the wall clock. */
  readonly script: readonly number[];
  /** The same, processor time: on a busy machine the wall clock tells of others' work. */
  readonly scriptBusy: readonly number[];
  /** Every task of at least `TASK` ms, script and drawing. */
  readonly tasks: readonly number[];
  readonly tasksBusy: readonly number[];
}

/** What the browser is asked to trace. */
export const TRACED = [
  "__metadata",
  "toplevel",
  "devtools.timeline",
  "disabled-by-default-devtools.timeline",
  "devtools.timeline.frame",
  "disabled-by-default-devtools.timeline.frame",
];

/** Where script runs. Collecting garbage is part of its price. */
const SCRIPT = new Set(["FunctionCall", "EvaluateScript", "RunMicrotasks", "MinorGC", "MajorGC"]);
const TASKS = new Set(["RunTask", "ThreadControllerImpl::RunTask"]);
const FRAME = "BeginMainThreadFrame";
/** Frames with less are those that nothing was drawn in, ms: they would only flatter. */
const SCRIPT_LEAST = 0.1;
/** Shorter tasks are the browser's small change, ms. */
const TASK = 0.5;
const MS = 1000;

interface Slice {
  readonly from: number;
  readonly to: number;
  readonly busy: number;
}

export function readTrace(json: string): MainThread {
  const { traceEvents } = JSON.parse(json) as { readonly traceEvents: readonly TraceEvent[] };
  const own = pageThread(traceEvents);
  const slices = (names: ReadonlySet<string>): Slice[] =>
    outermost(
      own.flatMap(({ name, ts, dur, tdur }) =>
        names.has(name) && dur !== undefined ? [{ from: ts, to: ts + dur, busy: tdur ?? dur }] : [],
      ),
    );
  const begins = own
    .filter(({ name }) => name === FRAME)
    .map(({ ts }) => ts)
    .sort((a, b) => a - b);
  const frames = begins.slice(1).map(() => ({ wall: 0, busy: 0 }));
  let frame = 0;
  for (const { from, to, busy } of slices(SCRIPT)) {
    while (frame < frames.length && (begins[frame + 1] ?? 0) <= from) frame++;
    const at = frames[frame];
    if (!at || from < (begins[0] ?? 0)) continue;
    at.wall += (to - from) / MS;
    at.busy += busy / MS;
  }
  const worked = frames.filter(({ wall }) => wall >= SCRIPT_LEAST);
  const tasks = slices(TASKS).filter(({ from, to }) => to - from >= TASK * MS);
  return {
    script: worked.map(({ wall }) => wall),
    scriptBusy: worked.map(({ busy }) => busy),
    tasks: tasks.map(({ from, to }) => (to - from) / MS),
    tasksBusy: tasks.map(({ busy }) => busy / MS),
  };
}

/** Events of the main thread that drew most frames: a browser keeps other pages' processes at hand. */
function pageThread(events: readonly TraceEvent[]): TraceEvent[] {
  const threads = new Map<string, TraceEvent[]>();
  const keyOf = ({ pid, tid }: TraceEvent): string => `${pid} ${tid}`;
  for (const event of events) {
    if (event.name === "thread_name" && event.args?.name === "CrRendererMain") threads.set(keyOf(event), []);
  }
  for (const event of events) threads.get(keyOf(event))?.push(event);
  const drawn = (own: readonly TraceEvent[]): number => own.filter(({ name }) => name === FRAME).length;
  const [most] = [...threads.values()].sort((a, b) => drawn(b) - drawn(a));
  if (!most || drawn(most) === 0) throw new Error("the trace tells of no frame");
  return most;
}

/** In order, without what lies within another. */
function outermost(slices: readonly Slice[]): Slice[] {
  const kept: Slice[] = [];
  for (const slice of [...slices].sort((a, b) => a.from - b.from || b.to - a.to)) {
    if (slice.from >= (kept.at(-1)?.to ?? Number.NEGATIVE_INFINITY)) kept.push(slice);
  }
  return kept;
}
