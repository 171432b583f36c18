/** The profile strip: the heights of a route, above the room's distances, with pins to drag and the pointer's place. */
import { type PointerEvent, useId, useMemo, useRef, useState } from "react";
import { useStore } from "zustand";
import { lengthText, percentText } from "../../drafting/figures.js";
import { PALETTES } from "../../exchange/svg/palette.js";
import type { ProfileSheet } from "../../exchange/svg/profile-sheet.js";
import type { LinePlace } from "../../layout/line.js";
import { heightOn } from "../../layout/place-names.js";
import { straightHeightAt } from "../../layout/profile.js";
import type { Route } from "../../layout/route.js";
import { freshId } from "../../plan/fresh-id.js";
import type { Id } from "../../plan/schema.js";
import { setPin } from "../../plan/turnout-edits.js";
import { climbs } from "../climb-store.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { besides, sideBySide } from "../option-store.js";
import { keyText } from "../sheet/keys.js";
import { IS_MAC } from "../use-page-keys.js";
import { DrawnMarkup } from "./DrawnMarkup.js";
import { thingNamed } from "./fly-to.js";
import { Pins, PinEntry } from "./profile/Pins.js";
import {
  pinMarks,
  placeAtX,
  type PinMark,
  profileView,
  type ProfileView,
  spotOf,
  type WayBeside,
} from "./profile/profile-view.js";
import { useCalmLayout } from "./profile/use-calm-layout.js";
import { useSizeOf } from "./use-size-of.js";
import { chosenRoute, firstChoice, type RouteChoice, sameChoice } from "./profile/route-choice.js";
import { RouteChooser } from "./profile/RouteChooser.js";

export interface ProfileProps {
  /** Only its head stands, with the route's facts. */
  readonly folded: boolean;
  readonly onFold: () => void;
}

export function Profile({ folded, onFold }: ProfileProps) {
  const [held, setHeld] = useState<Held>();
  // A route that is looked at takes the place of the chosen one; it is no part of the plan, and nothing of it is dragged.
  const proposed = useStore(climbs, (state) => state.proposed);
  const calm = useCalmLayout(held !== undefined);
  const layout = proposed?.layout ?? calm;
  const selection = useEditor((state) => state.selection);
  const readings = useEditor((state) => state.readings);
  const units = useEditor((state) => state.units);
  const title = useId();
  const [choice, setChoice] = useState<RouteChoice>();
  const first = useSameChoice(useMemo(() => firstChoice(readings), [readings]));
  const now = choice ?? first;
  const chosen = useMemo(() => chosenRoute(calm, now, selection), [calm, now, selection]);
  const others = useWaysBeside(proposed ? undefined : now, calm.plan.option, selection);
  const plan = layout.plan;
  const laid = held?.route.stretches.every(({ line }) => layout.lines.has(line)) === true;
  const route = proposed?.route ?? (laid ? held?.route : chosen.ok ? chosen.route : undefined);
  return (
    <section className="profile" aria-labelledby={title}>
      <header className="profile-head">
        <h2 id={title}>Profile</h2>
        {proposed ? <span>{proposed.name}</span> : <RouteChooser choice={now} onChoose={setChoice} />}
        {route && <Facts layout={layout} route={route} units={units} />}
        {Object.keys(plan.pins).length > 0 && route && !proposed && !folded && (
          <span className="quiet profile-hint">drag a pin, or type its height</span>
        )}
        <button
          type="button"
          className="button icon plain fold"
          aria-expanded={!folded}
          aria-label={folded ? "Open the profile" : "Fold the profile"}
          title={`${folded ? "Open the profile" : "Fold the profile"} (${keyText("Alt+5", IS_MAC)})`}
          onClick={onFold}
        >
          <svg viewBox="0 0 18 18" aria-hidden="true">
            <path d={folded ? "M4 11l5-5 5 5" : "M4 7l5 5 5-5"} />
          </svg>
        </button>
      </header>
      {!folded && route && (
        <Strip
          route={route}
          layout={layout}
          scales={laid && !proposed ? held?.scales : undefined}
          fixed={proposed !== undefined}
          besides={others}
          onHold={setHeld}
        />
      )}
      {!folded && !route && !chosen.ok && <p className="quiet empty">{chosen.message}</p>}
    </section>
  );
}

/** The choice as the object it was, as long as it says the same: readings come anew many times while a hand drags. */
function useSameChoice(choice: RouteChoice): RouteChoice {
  const [kept, setKept] = useState(choice);
  if (sameChoice(kept, choice)) return kept;
  setKept(choice);
  return choice;
}

const NO_WAYS: readonly WayBeside[] = [];

/** The same choice in the options that are not in hand, while they are looked at side by side. */
function useWaysBeside(
  choice: RouteChoice | undefined,
  inHand: Id | undefined,
  selection: Parameters<typeof chosenRoute>[2],
): readonly WayBeside[] {
  const candidates = useStore(sideBySide, besides);
  return useMemo(() => {
    const others = choice ? candidates.filter(({ option }) => option !== inHand) : [];
    const ways = others.flatMap(({ name, layout }) => {
      const chosen = chosenRoute(layout, choice ?? { kind: "track" }, selection);
      return chosen.ok ? [{ name, layout, route: chosen.route }] : [];
    });
    return ways.length > 0 ? ways : NO_WAYS;
  }, [candidates, choice, inHand, selection]);
}

type Laid = Parameters<typeof profileView>[0];

/**
 * While a pin is in the hand, route and scales stay: its new height may make another route the way up, and a pin that
 * left the drawing could not be let go of.
 */
interface Held {
  readonly route: Route;
  readonly scales: ProfileSheet;
}

interface StripProps extends Pick<Laid, "layout" | "route"> {
  readonly scales: ProfileSheet | undefined;
  /** Only to be looked at. */
  readonly fixed: boolean;
  /** The same way in other options. */
  readonly besides: readonly WayBeside[];
  readonly onHold: (held: Held | undefined) => void;
}

function Facts({ layout, route, units }: Pick<Laid, "layout" | "route"> & { readonly units: "imperial" | "metric" }) {
  const first = route.stretches[0];
  const last = route.stretches.at(-1);
  // From break to break: the vertical curves at the ends round off what is climbed.
  const level = ({ line, s }: LinePlace): number => {
    const profile = layout.profiles.get(line);
    return profile ? straightHeightAt(profile, s) : 0;
  };
  const rise = first && last ? level({ line: last.line, s: last.to }) - level({ line: first.line, s: first.from }) : 0;
  const ruling = useMemo(() => {
    const steepest = route.stretches.flatMap((stretch) => {
      const profile = layout.profiles.get(stretch.line);
      if (!profile) return [];
      const [low, high] = [Math.min(stretch.from, stretch.to), Math.max(stretch.from, stretch.to)];
      return profile.stations.slice(1).flatMap((s, i) => {
        const before = profile.stations[i] ?? s;
        const change = (profile.heights[i + 1] ?? 0) - (profile.heights[i] ?? 0);
        return s > low && before < high && s > before ? [Math.abs((100 * change) / (s - before))] : [];
      });
    });
    return Math.max(0, ...steepest);
  }, [layout, route]);
  return (
    <>
      <span className="figure">{lengthText(route.length, units)}</span>
      <span className="figure">
        {rise < 0 ? "falls" : "rises"} {lengthText(Math.abs(rise), units)}
      </span>
      <span className="figure">
        ruling grade <b>{percentText(ruling)}</b>
      </span>
    </>
  );
}

function Strip({ route, layout, scales, fixed, besides, onHold }: StripProps) {
  const store = useEditorStore();
  const theme = useEditor((state) => state.theme);
  const units = useEditor((state) => state.units);
  const box = useRef<HTMLDivElement>(null);
  const size = useSizeOf(box);
  const [typing, setTyping] = useState<PinMark>();
  const view = useMemo(() => {
    if (!size || size.width < 80 || size.height < 80) return undefined;
    const plan = layout.plan.units === units ? layout.plan : { ...layout.plan, units };
    return profileView({ plan, layout, route, palette: PALETTES[theme], ...size, scales, besides });
  }, [layout, route, theme, units, size, scales, besides]);
  const pins = useMemo(() => (view ? pinMarks(layout.plan, view) : []), [layout, view]);

  const placeUnder = (event: { readonly clientX: number }) => {
    const left = box.current?.getBoundingClientRect().left ?? 0;
    return view && placeAtX(view, event.clientX - left);
  };
  const hover = (event: PointerEvent): void => store.getState().setHover(placeUnder(event));
  const addPin = (event: { readonly clientX: number }): void => {
    const place = placeUnder(event);
    const { history, settled } = store.getState();
    if (fixed || !place?.line.startsWith("track:")) return;
    const track = place.line.slice("track:".length);
    const id = freshId(history.plan, "pin", Math.random);
    const height = Math.round(heightOn(settled, place.line, place.s) * 10) / 10;
    if (store.getState().edit(setPin(history.plan, id, { track, at: Math.round(place.s * 10) / 10, height }))) {
      const thing = thingNamed(`pins.${id}`);
      if (thing) store.getState().select([thing]);
    }
  };
  return (
    <div className="profile-field" ref={box}>
      {view && (
        // Hovering only shows what the pins give by key; a pin is added by the tool of that name too.
        // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
        <svg
          width={view.sheet.width}
          height={view.sheet.height}
          onPointerMove={hover}
          onPointerLeave={() => store.getState().setHover(undefined)}
          onDoubleClick={addPin}
          aria-label="Heights along the route"
          role="group"
        >
          <DrawnMarkup text={view.markup} />
          <Pointer view={view} />
          {!fixed && (
            <Pins
              view={view}
              pins={pins}
              onDrag={(dragging) => onHold(dragging ? { route, scales: view.sheet } : undefined)}
              onType={setTyping}
            />
          )}
        </svg>
      )}
      {typing && <PinEntry pin={typing} onDone={() => setTyping(undefined)} />}
    </div>
  );
}

/** The place under the pointer, here or on the sheet. */
function Pointer({ view }: { readonly view: ProfileView }) {
  const hover = useEditor((state) => state.hover);
  const units = useEditor((state) => state.units);
  const spot = hover && spotOf(view, hover);
  if (!spot) return null;
  const { top, strip, right } = view.sheet;
  const flipped = spot.x > right - 120;
  const grade = Math.abs(spot.grade) < 0.05 ? "level" : percentText(Math.abs(spot.grade));
  return (
    <g className="pointer" aria-hidden="true">
      <path d={`M${spot.x} ${top}V${strip + 22}`} />
      <circle cx={spot.x} cy={spot.y} r={3} />
      <text x={spot.x + (flipped ? -6 : 6)} y={top + 10} textAnchor={flipped ? "end" : "start"}>
        {lengthText(spot.height, units)} · {grade} · {lengthText(spot.distance, units)}
      </text>
    </g>
  );
}
