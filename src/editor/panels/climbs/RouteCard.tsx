/** One route found: its shape in the room, its figures, and the ways to take it. Looked at, it lies over the sheet. */
import type { MouseEvent } from "react";
import { CLIMB_COLUMNS } from "../../../exchange/climb-text.js";
import type { ClimbRoute } from "../../../climb/request.js";
import type { Layout } from "../../../layout/layout.js";
import { belonging, type ClimbDesk } from "../../climbs/desk.js";
import type { TakeAs } from "../../climbs/take-route.js";
import { useEditor } from "../../editor-context.js";
import { RouteSketch } from "./RouteSketch.js";

export interface RouteCardProps {
  readonly number: number;
  readonly route: ClimbRoute;
  /** The plan it was found for. */
  readonly asked: Layout;
  readonly desk: ClimbDesk;
  readonly shown: boolean;
}

/** What a climb is judged by first. */
const FIRST = new Set(["run", "ruling", "felt"]);

export function RouteCard({ number, route, asked, desk, shown }: RouteCardProps) {
  const units = useEditor((state) => state.units);
  const into = useEditor((state) => belonging(state.history.plan));
  const figures = CLIMB_COLUMNS.flatMap(({ id, head, text }) => {
    const value = text(route.figures, units);
    return value === undefined ? [] : [{ id, head, value }];
  });
  const look = (): void => desk.show(route);
  const take =
    (as: TakeAs) =>
    (event: MouseEvent): void => {
      // Taken, it is looked at as what it is: a part of the plan.
      event.stopPropagation();
      desk.take(route, as);
    };
  return (
    // What hovering shows the keyboard shows by the focus of the buttons within.
    // oxlint-disable-next-line jsx-a11y/click-events-have-key-events, jsx-a11y/no-noninteractive-element-interactions
    <li
      className="climb-route"
      aria-label={`Route ${number}`}
      data-shown={shown || undefined}
      onPointerEnter={look}
      onFocus={look}
      onClick={look}
    >
      <RouteSketch asked={asked} route={route} />
      <div>
        <dl className="climb-first">
          {figures.map(({ id, head, value }) => FIRST.has(id) && <Figure key={id} head={head} value={value} />)}
        </dl>
        <dl className="figures">
          {figures.map(({ id, head, value }) => !FIRST.has(id) && <Figure key={id} head={head} value={value} />)}
        </dl>
      </div>
      <div className="climb-take">
        <button type="button" className="button" onClick={take("option")}>
          Take as an option
        </button>
        <button type="button" className="link" onClick={take("here")}>
          Take into {into}
        </button>
      </div>
    </li>
  );
}

const Figure = ({ head, value }: { readonly head: string; readonly value: string }) => (
  <div>
    <dt>{head}</dt>
    <dd className="figure">{value}</dd>
  </div>
);
