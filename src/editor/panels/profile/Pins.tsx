/** The height pins of the profile: dragged up, down and along, nudged with the arrows, or typed. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from "react";
import { lengthText } from "../../../drafting/figures.js";
import { parseLength } from "../../../plan/parse-length.js";
import type { Id } from "../../../plan/schema.js";
import { removePin, setPinHeight } from "../../../plan/turnout-edits.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { trackName } from "../details/names.js";
import { pinAlong, pinToHeight, STEPS } from "./pin-drag.js";
import type { PinMark, ProfileView } from "./profile-view.js";

export interface PinsProps {
  readonly view: ProfileView;
  readonly pins: readonly PinMark[];
  /** The scales stay as they are while this is so. */
  readonly onDrag: (dragging: boolean) => void;
  readonly onType: (pin: PinMark) => void;
}

interface Drag {
  readonly id: Id;
  readonly pin: PinMark;
  readonly x: number;
  readonly y: number;
  readonly way?: "height" | "along";
}

/** A hand sets out when it has gone this far, px. */
const SETS_OUT = 4;
/** Figures under pins stand at least this far apart, px. */
const APART = 46;
/** Pulled this near to a deck's railhead, a pin holds the deck, px. */
const CATCH = 5;

export function Pins({ view, pins, onDrag, onType }: PinsProps) {
  const store = useEditorStore();
  const units = useEditor((state) => state.units);
  const selection = useEditor((state) => state.selection);
  const drag = useRef<Drag>(undefined);
  const group = useRef<SVGGElement>(null);
  const picked = (id: Id): boolean =>
    selection.some((thing) => thing.kind === "record" && thing.collection === "pins" && thing.id === id);

  const editOf = (now: Drag, x: number, y: number) => {
    const { history, settled } = store.getState();
    const near = CATCH * view.sheet.up;
    if (now.way === "along") {
      const at = now.pin.at + (x - now.x) * view.sheet.across * now.pin.way;
      return pinAlong(history.plan, settled, now.id, at, units);
    }
    return pinToHeight(history.plan, now.id, now.pin.height - (y - now.y) * view.sheet.up, near, units);
  };
  const down = (pin: PinMark) => (event: PointerEvent<SVGGElement>) => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    drag.current = { id: pin.id, pin, x: event.clientX, y: event.clientY };
    store.getState().select([{ kind: "record", collection: "pins", id: pin.id }]);
  };
  const move = (event: PointerEvent): void => {
    let now = drag.current;
    if (!now) return;
    const [dx, dy] = [Math.abs(event.clientX - now.x), Math.abs(event.clientY - now.y)];
    if (!now.way) {
      if (Math.max(dx, dy) < SETS_OUT) return;
      now = { ...now, way: dx > dy ? "along" : "height" };
      drag.current = now;
      // A pin pulled off the route is drawn no more: the hand is held by what stays.
      group.current?.setPointerCapture(event.pointerId);
      onDrag(true);
    }
    store.getState().preview(editOf(now, event.clientX, event.clientY));
  };
  const up = (event: PointerEvent): void => {
    const now = drag.current;
    drag.current = undefined;
    if (!now?.way) return;
    onDrag(false);
    store.getState().edit(editOf(now, event.clientX, event.clientY));
  };
  const giveUp = (): void => {
    if (drag.current?.way) {
      onDrag(false);
      store.getState().abandon();
    }
    drag.current = undefined;
  };
  const key = (pin: PinMark) => (event: KeyboardEvent) => {
    const { history, settled } = store.getState();
    const step = STEPS[units];
    const nudge = (up: number, along: number): void => {
      const edit =
        along === 0
          ? pinToHeight(history.plan, pin.id, pin.height + up * step.nudge, 0, units)
          : pinAlong(history.plan, settled, pin.id, pin.at + along * step.along * pin.way, units);
      store.getState().edit(edit, `nudge ${pin.id} ${along === 0 ? "height" : "along"}`);
    };
    if (event.key === "ArrowUp") nudge(1, 0);
    else if (event.key === "ArrowDown") nudge(-1, 0);
    else if (event.key === "ArrowRight") nudge(0, 1);
    else if (event.key === "ArrowLeft") nudge(0, -1);
    else if (event.key === "Enter") onType(pin);
    else if (event.key === "Delete" || event.key === "Backspace") {
      store.getState().edit(removePin(history.plan, pin.id));
    } else if (event.key === "Escape" && drag.current) giveUp();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  const lettered = withRoom(pins);
  return (
    <g ref={group} onPointerMove={move} onPointerUp={up} onPointerCancel={giveUp}>
      {pins.map((pin) => {
        const room = lettered.has(pin.id);
        const text = lengthText(pin.height, units);
        return (
          <g
            key={pin.id}
            className={picked(pin.id) ? "pin picked" : "pin"}
            transform={`translate(${pin.x} ${pin.y})`}
            role="slider"
            tabIndex={0}
            aria-label={`Height pin on ${trackName(store.getState().plan, pin.track)}`}
            aria-valuenow={Math.round(pin.height)}
            aria-valuetext={text}
            aria-orientation="vertical"
            onPointerDown={down(pin)}
            onDoubleClick={(event) => {
              event.stopPropagation();
              onType(pin);
            }}
            onKeyDown={key(pin)}
            onFocus={() => store.getState().setHover({ line: `track:${pin.track}`, s: pin.at })}
          >
            <circle className="pin-reach" r={16} />
            {(room || picked(pin.id)) && (
              <>
                <path d="M0 4V14" />
                <text y={26}>{text}</text>
              </>
            )}
            <circle className="pin-ring" r={4} />
          </g>
        );
      })}
    </g>
  );
}

/** The pins whose figures stand clear of the figure before them. */
function withRoom(pins: readonly PinMark[]): Set<Id> {
  let free = Number.NEGATIVE_INFINITY;
  const clear = new Set<Id>();
  for (const { id, x } of pins) {
    if (x < free) continue;
    clear.add(id);
    free = x + APART;
  }
  return clear;
}

export interface PinEntryProps {
  readonly pin: PinMark;
  readonly onDone: () => void;
}

/** A height typed over a pin. */
export function PinEntry({ pin, onDone }: PinEntryProps) {
  const store = useEditorStore();
  const units = useEditor((state) => state.units);
  const [text, setText] = useState(lengthText(pin.height, units));
  const [fault, setFault] = useState("");
  const box = useRef<HTMLInputElement>(null);
  useEffect(() => box.current?.select(), []);
  const commit = (): void => {
    const { history } = store.getState();
    const deck = Object.entries(history.plan.decks).find(
      ([, { name }]) => name.toLowerCase() === text.trim().toLowerCase(),
    );
    const parsed = parseLength(text, units);
    if (!deck && !parsed.ok) return setFault(parsed.message);
    const edit = setPinHeight(history.plan, pin.id, deck ? { deck: deck[0] } : { height: parsed.ok ? parsed.mm : 0 });
    if (!edit.ok) return setFault(edit.message);
    store.getState().edit(edit);
    onDone();
  };
  return (
    <div className="pin-entry" style={{ left: pin.x, top: pin.y }}>
      <input
        ref={box}
        aria-label="Height of the railhead above the floor, or a deck’s name"
        value={text}
        onChange={(event) => setText(event.target.value)}
        onBlur={onDone}
        onKeyDown={(event) => {
          event.stopPropagation();
          if (event.key === "Enter") commit();
          if (event.key === "Escape") onDone();
        }}
      />
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
