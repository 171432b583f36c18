/** The plan's measured turnouts: a table, and below it the one in hand with its drawing and figures. Loaded when asked for. */
import { useState } from "react";
import type { Edit } from "../../../plan/edit.js";
import type { Id, Template } from "../../../plan/schema.js";
import { addTemplate, duplicateTemplate, removeTemplate } from "../../../plan/template-edits.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { fieldText } from "../details/field.js";
import { FieldRow } from "../details/FieldRow.js";
import { templateDetails } from "../details/turnout-details.js";
import { startingTemplate } from "./starting-template.js";
import { TemplateFigure } from "./TemplateFigure.js";
import "./templates.css";

/** Of the whole plan, or the drawing of one of them, with its figures where it is not itself what is chosen. */
export default function Templates({ which }: { readonly which: "all" | Id }) {
  const plan = useEditor((state) => state.plan);
  if (which === "all") return <Table />;
  const template = plan.templates[which];
  return template ? <TemplateFigure template={template} gauge={plan.scale.gauge} /> : null;
}

const HEADS = [
  ["length", "Length"],
  ["points", "Points"],
  ["angle", "Angle"],
  ["radius", "Radius"],
  ["diverging", "Diverging"],
] as const;

function Table() {
  const store = useEditorStore();
  const plan = useEditor((state) => state.plan);
  const units = useEditor((state) => state.units);
  const [chosen, setChosen] = useState<Id>();
  const all = Object.entries(plan.templates);
  const inHand = chosen !== undefined && Object.hasOwn(plan.templates, chosen) ? chosen : all[0]?.[0];
  const template = inHand === undefined ? undefined : plan.templates[inHand];
  const fields = (id: Id) => templateDetails(plan, id)?.sections.flatMap((section) => section.fields) ?? [];
  const figure = (id: Id, key: string): string => {
    const field = fields(id).find((one) => one.id === key);
    return field ? fieldText(field, units) : "";
  };
  const make = (made: { readonly id: Id; readonly edit: Edit }): void => {
    if (store.getState().edit(made.edit)) setChosen(made.id);
  };
  const now = () => store.getState().history.plan;
  return (
    <div className="templates">
      {all.length === 0 ? (
        <p className="quiet">Measure a turnout you have, and turnouts can be made to it.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Name</th>
              {HEADS.map(([key, head]) => (
                <th scope="col" key={key}>
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {all.map(([id, { name }]: readonly [Id, Template]) => (
              <tr key={id} data-chosen={id === inHand || undefined}>
                <th scope="row">
                  <button type="button" className="link" aria-pressed={id === inHand} onClick={() => setChosen(id)}>
                    {name}
                  </button>
                </th>
                {HEADS.map(([key]) => (
                  <td className="figure" key={key}>
                    {figure(id, key) || "–"}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {inHand !== undefined && template && (
        <div key={inHand}>
          <TemplateFigure template={template} gauge={plan.scale.gauge} />
          {fields(inHand).map((field) => (
            <FieldRow key={field.id} field={field} />
          ))}
        </div>
      )}
      <p className="actions">
        <button type="button" className="button" onClick={() => make(addTemplate(now(), startingTemplate(now())))}>
          Add
        </button>
        {inHand !== undefined && (
          <>
            <button type="button" className="button" onClick={() => make(duplicateTemplate(now(), inHand))}>
              Duplicate
            </button>
            <button
              type="button"
              className="button"
              onClick={() => store.getState().edit(removeTemplate(now(), inHand))}
            >
              Remove
            </button>
          </>
        )}
      </p>
    </div>
  );
}
