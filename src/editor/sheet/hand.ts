/**
 * What a hand does on the sheet, told apart: working with the tool, moving the paper, magnifying it. Without page, so
 * that tests play it.
 *
 * Always holds: every `down` a tool is told is followed by an `up` or a `cancel`; while a pen or a second finger is
 * down, no finger works; a gesture that moves or magnifies the paper tells the tool nothing.
 */
import { panBy, type ScreenPoint, toSheet, type Viewport, zoomAt } from "../../drafting/viewport.js";
import type { ToolEvent } from "../tool.js";

/** One event of a pointer, in px of the window. */
export interface Touch {
  readonly type: "down" | "move" | "up" | "cancel";
  readonly id: number;
  readonly kind: "mouse" | "pen" | "touch";
  readonly at: ScreenPoint;
  /** 0 main, 1 middle, 2 second; -1 where none changed. */
  readonly button: number;
  readonly shift: boolean;
  readonly alt: boolean;
  /** ms. */
  readonly time: number;
}

export interface Wheel {
  readonly at: ScreenPoint;
  /** px; lines are told as such. */
  readonly dx: number;
  readonly dy: number;
  readonly lines: boolean;
  /** Ctrl is held, or a touchpad is pinched. */
  readonly pinch: boolean;
  readonly shift: boolean;
  readonly time: number;
}

export interface HandDeeds {
  viewport(): Viewport;
  setViewport(viewport: Viewport): void;
  tool(event: ToolEvent): void;
  /** Two taps of a finger. */
  doubleTap?(at: ScreenPoint): void;
  /** The paper is being moved, or no longer. */
  grabbing?(held: boolean): void;
}

type Doing =
  | { readonly what: "nothing" }
  | { readonly what: "tool"; readonly id: number; readonly clicks: number }
  | { readonly what: "pan"; readonly id: number; readonly last: ScreenPoint }
  /** Two fingers; or one left of them, which does nothing more. */
  | { readonly what: "pinch" };

/** Two clicks within this are a double click, ms; and within so many px, by mouse and by finger. */
const DOUBLE = { time: 400, mouse: 6, touch: 24 } as const;
/** Magnification per px of wheel: a notch of 100 px is a quarter more. A touchpad's pinch tells a tenth of that. */
const PER_PX = Math.log(1.25) / 100;
const PINCH = 6;
/** A wheel that tells lines: so many px each. */
const LINE = 33;
/** A touchpad tells smaller steps than a wheel's notch; turns that follow within this are one gesture, ms. */
const NOTCH = 50;
const GESTURE = 200;

export interface Hand {
  touch(touch: Touch): void;
  wheel(wheel: Wheel): void;
  /** Space is held: the next drag moves the paper. */
  holdSpace(held: boolean): void;
  /** Everything in hand is let go, as when the page is left. */
  drop(): void;
  readonly ready: boolean;
}

export function makeHand(deeds: HandDeeds): Hand {
  let doing: Doing = { what: "nothing" };
  let space = false;
  let pen: number | undefined;
  const fingers = new Map<number, ScreenPoint>();
  let lastClick: { readonly at: ScreenPoint; readonly time: number; readonly clicks: number } | undefined;
  let turning: { readonly by: "pan" | "zoom"; readonly until: number } | undefined;

  const tell = (type: "down" | "move" | "up", touch: Touch, clicks: number): void =>
    deeds.tool({
      type,
      at: toSheet(deeds.viewport(), touch.at),
      screen: touch.at,
      shift: touch.shift,
      alt: touch.alt,
      touch: touch.kind === "touch",
      clicks,
    });

  const giveUp = (): void => {
    if (doing.what === "tool") deeds.tool({ type: "cancel" });
    if (doing.what === "pan") deeds.grabbing?.(false);
    doing = { what: "nothing" };
  };

  const clicksOf = ({ at, time, kind }: Touch): number => {
    const near = kind === "touch" ? DOUBLE.touch : DOUBLE.mouse;
    const again =
      lastClick !== undefined &&
      time - lastClick.time < DOUBLE.time &&
      Math.hypot(at.x - lastClick.at.x, at.y - lastClick.at.y) < near;
    const clicks = again && lastClick?.clicks === 1 ? 2 : 1;
    lastClick = { at, time, clicks };
    return clicks;
  };

  const down = (touch: Touch): void => {
    if (touch.kind === "pen") {
      // The palm that came before the pen is no hand at work.
      giveUp();
      fingers.clear();
      pen = touch.id;
    } else if (touch.kind === "touch") {
      fingers.set(touch.id, touch.at);
      if (fingers.size > 1) {
        giveUp();
        doing = { what: "pinch" };
        return;
      }
    }
    if (doing.what !== "nothing") return;
    if (touch.button === 1 || (touch.button === 0 && space)) {
      doing = { what: "pan", id: touch.id, last: touch.at };
      deeds.grabbing?.(true);
    } else if (touch.button === 0) {
      const clicks = clicksOf(touch);
      doing = { what: "tool", id: touch.id, clicks };
      tell("down", touch, clicks);
    }
  };

  const move = (touch: Touch): void => {
    if (doing.what === "pinch") {
      if (touch.kind === "touch") pinch(touch);
    } else if (doing.what === "pan") {
      if (doing.id !== touch.id) return;
      deeds.setViewport(panBy(deeds.viewport(), touch.at.x - doing.last.x, touch.at.y - doing.last.y));
      doing = { ...doing, last: touch.at };
    } else if (doing.what === "tool") {
      if (doing.id === touch.id) tell("move", touch, doing.clicks);
    } else if (touch.kind !== "touch") tell("move", touch, 0);
  };

  /** Two fingers hold two places of the paper: it follows their middle and their distance. */
  const pinch = (touch: Touch): void => {
    const before = [...fingers.values()];
    if (!fingers.has(touch.id)) return;
    fingers.set(touch.id, touch.at);
    const [a, b] = before;
    const [p, q] = [...fingers.values()];
    if (!a || !b || !p || !q) return;
    const middle = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
    const moved = panBy(deeds.viewport(), middle.x - (a.x + b.x) / 2, middle.y - (a.y + b.y) / 2);
    const apart = Math.hypot(b.x - a.x, b.y - a.y);
    const factor = apart > 0 ? Math.hypot(q.x - p.x, q.y - p.y) / apart : 1;
    deeds.setViewport(factor > 0 ? zoomAt(moved, middle, factor) : moved);
  };

  const end = (touch: Touch): void => {
    fingers.delete(touch.id);
    if (pen === touch.id) pen = undefined;
    if (doing.what === "pinch") {
      if (fingers.size === 0) doing = { what: "nothing" };
    } else if (doing.what === "pan" && doing.id === touch.id) {
      doing = { what: "nothing" };
      deeds.grabbing?.(false);
    } else if (doing.what === "tool" && doing.id === touch.id) {
      const { clicks } = doing;
      doing = { what: "nothing" };
      if (touch.type === "cancel") deeds.tool({ type: "cancel" });
      else {
        tell("up", touch, clicks);
        if (clicks === 2 && touch.kind === "touch") deeds.doubleTap?.(touch.at);
      }
    }
  };

  return {
    get ready() {
      return doing.what === "nothing";
    },
    touch(touch) {
      const palm = touch.kind === "touch" && pen !== undefined;
      if (palm) return;
      if (touch.type === "down") down(touch);
      else if (touch.type === "move") move(touch);
      else end(touch);
    },
    wheel({ at, dx, dy, lines, pinch: pinched, shift, time }) {
      const unit = lines ? LINE : 1;
      const touchpad = !lines && (dx !== 0 || Math.abs(dy) < NOTCH);
      const wanted = pinched ? "zoom" : shift || touchpad ? "pan" : "zoom";
      const by = !pinched && turning && time < turning.until ? turning.by : wanted;
      turning = { by, until: time + GESTURE };
      const view = deeds.viewport();
      if (by === "zoom") {
        const strength = pinched && touchpad ? PINCH : 1;
        deeds.setViewport(zoomAt(view, at, Math.exp(-dy * unit * PER_PX * strength)));
      } else {
        const sideways = shift && dx === 0;
        deeds.setViewport(panBy(view, -(sideways ? dy : dx) * unit, -(sideways ? 0 : dy) * unit));
      }
    },
    holdSpace(held) {
      space = held;
    },
    drop() {
      giveUp();
      fingers.clear();
      pen = undefined;
    },
  };
}
