/** Every key, from the same tables the keyboard reads. */
import { COMMANDS, keyText } from "../commands.js";
import { STAGES, type Tool } from "../tool.js";
import { IS_MAC } from "../use-command-keys.js";

const SHEET = [
  ["Space and drag, two fingers, or the wheel", "move and magnify the sheet"],
  ["Esc", "let go of what is in hand"],
  ["Shift", "choose one more"],
  ["A number, then Enter", "what is drawn gets exactly that"],
] as const;

export function KeyList({ tools }: { readonly tools: readonly Tool[] }) {
  const groups = [...new Set(COMMANDS.map(({ group }) => group))];
  return (
    <>
      <h2>Keys</h2>
      <div className="key-groups">
        {groups.map((group) => (
          <Group
            key={group}
            name={group}
            rows={COMMANDS.filter((one) => one.group === group && one.keys.length > 0).map((one) => [
              one.keys.map((key) => keyText(key, IS_MAC)).join(", "),
              one.name,
            ])}
          />
        ))}
        <Group
          name="Stages"
          rows={STAGES.map((stage, i) => [
            keyText(`Alt+${i + 1}`, IS_MAC),
            stage.charAt(0).toUpperCase() + stage.slice(1),
          ])}
        />
        {(["any", ...STAGES] as const).map((stage) => (
          <Group
            key={stage}
            name={stage === "any" ? "Any stage" : `Tools of ${stage}`}
            rows={tools.filter((tool) => tool.stage === stage).map((tool) => [tool.key.toUpperCase(), tool.name])}
          />
        ))}
        <Group name="On the sheet" rows={SHEET} />
      </div>
    </>
  );
}

interface GroupProps {
  readonly name: string;
  readonly rows: readonly (readonly [keys: string, does: string])[];
}

function Group({ name, rows }: GroupProps) {
  if (rows.length === 0) return null;
  return (
    <section>
      <h3>{name}</h3>
      <dl>
        {rows.map(([keys, does]) => (
          <div key={`${keys} ${does}`}>
            <dt>
              <kbd>{keys}</kbd>
            </dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
