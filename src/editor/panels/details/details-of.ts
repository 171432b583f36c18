/** Details of whatever is selected: one thing, several of them, or the plan. */
import type { Layout } from "../../../layout/layout.js";
import type { Plan } from "../../../plan/schema.js";
import type { Selected } from "../../tool.js";
import { commonSections, type Details } from "./field.js";
import { backdropDetails, benchDetails, deckDetails, gateDetails, labelDetails } from "./frame-details.js";
import { listed, selectedName } from "./names.js";
import { optionSection } from "./option-details.js";
import { planDetails } from "./plan-details.js";
import { obstacleDetails, openingDetails, wallDetails } from "./room-details.js";
import { trackDetails } from "./track-details.js";
import { slipDetails, turntableDetails } from "./trackwork-details.js";
import { pinDetails, templateDetails, turnoutDetails } from "./turnout-details.js";

/** Figures in the units on display. Things that are gone are passed over. */
export function detailsOf(
  own: Plan,
  layout: Layout,
  selection: readonly Selected[],
  units: Plan["units"] = own.units,
): Details {
  const plan = own.units === units ? own : { ...own, units };
  const all = selection.flatMap((item) => detailsOfOne(plan, layout, item) ?? []);
  const [only] = all;
  if (!only) return planDetails(plan, own.units);
  if (all.length === 1) return only;
  const alike = all.every(({ title }) => title === only.title);
  return {
    title: alike ? plural(only.title, all.length) : `${all.length} things`,
    about: listed(
      selection.map((item) => selectedName(plan, item)),
      3,
    ),
    sections: commonSections(all),
  };
}

const plural = (title: string, count: number): string => {
  const word = title.toLowerCase();
  return `${count} ${/(ch|sh|s)$/.test(word) ? `${word}es` : word === "shelf" ? "shelves" : `${word}s`}`;
};

function detailsOfOne(plan: Plan, layout: Layout, item: Selected): Details | undefined {
  if (item.kind === "wall") return wallDetails(plan, item.wall);
  if (item.kind !== "record") {
    return item.kind === "opening" ? openingDetails(plan, item.id) : obstacleDetails(plan, item.id);
  }
  const details = detailsOfRecord(plan, layout, item);
  const whose = optionSection(plan, { collection: item.collection, id: item.id });
  return details && whose ? { ...details, sections: [...details.sections, whose] } : details;
}

function detailsOfRecord(plan: Plan, layout: Layout, item: Selected & { kind: "record" }): Details | undefined {
  const { id } = item;
  switch (item.collection) {
    case "tracks":
      return trackDetails(plan, layout, id, item.leg);
    case "turnouts":
      return turnoutDetails(plan, layout, id);
    case "slips":
      return slipDetails(plan, layout, id);
    case "turntables":
      return turntableDetails(plan, id);
    case "templates":
      return templateDetails(plan, id);
    case "pins":
      return pinDetails(plan, layout, id);
    case "decks":
      return deckDetails(plan, id);
    case "benches":
      return benchDetails(plan, id);
    case "gates":
      return gateDetails(plan, id);
    case "backdrops":
      return backdropDetails(plan, id);
    case "labels":
      return labelDetails(plan, id);
    default:
      return undefined;
  }
}
