/** Edits of measured turnouts: the parts in the owner's hand that turnouts may be made to. */
import { type Edit, putRecord, recordAt, refused, removeRecord } from "./edit.js";
import { freshId } from "./fresh-id.js";
import { dependants } from "./references.js";
import type { Id, Plan, Template } from "./schema.js";

/** Under an id of its own, which is given back. */
export function addTemplate(plan: Plan, template: Template): { readonly id: Id; readonly edit: Edit } {
  const id = freshId(plan, template.name);
  return { id, edit: putRecord(plan, "templates", id, template, "Add measured turnout") };
}

export function duplicateTemplate(plan: Plan, id: Id): { readonly id: Id; readonly edit: Edit } {
  const template = recordAt(plan, "templates", id);
  if (!template) return { id, edit: refused("there is no such measured turnout") };
  const { id: copy, edit } = addTemplate(plan, { ...template, name: freshName(plan, template.name) });
  return { id: copy, edit: edit.ok ? { ...edit, name: "Duplicate measured turnout" } : edit };
}

/** Refused while turnouts are made to it. */
export function removeTemplate(plan: Plan, id: Id): Edit {
  const template = recordAt(plan, "templates", id);
  const users = dependants(plan, { collection: "templates", id }).map(({ from }) => from.id);
  const [first] = users;
  if (!template || first === undefined)
    return removeRecord(plan, { collection: "templates", id }, "refuse", "Remove measured turnout");
  const turnout = plan.turnouts[first];
  const named = turnout?.name ?? `a turnout on ${plan.tracks[turnout?.on ?? ""]?.name ?? turnout?.on ?? ""}`;
  const more = users.length > 1 ? ` and ${users.length - 1} more` : "";
  const [are, them] = users.length > 1 ? ["are", "them"] : ["is", "it"];
  return refused(`${named}${more} ${are} made to ${template.name}: give ${them} a number first`);
}

/** `Bought 2` where there is a `Bought`. */
function freshName(plan: Plan, name: string): string {
  const used = new Set(Object.values(plan.templates).map((one) => one.name));
  const stem = name.replace(/ \d+$/, "");
  for (let n = 2; ; n += 1) if (!used.has(`${stem} ${n}`)) return `${stem} ${n}`;
}
