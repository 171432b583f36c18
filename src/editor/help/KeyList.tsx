/** Every key, from the same tables the keyboard reads. */
import { PAGE_COMMANDS } from "../page-commands.js";
import { COMMANDS } from "../sheet/commands.js";
import { keyText } from "../sheet/keys.js";
import { STAGES, type Tool } from "../tool.js";
import { IS_MAC } from "../use-page-keys.js";

const SHEET = [
  ["Space and drag, two fingers, or the wheel", "move and magnify the sheet"],
  ["Esc", "let go of what is in hand"],
  ["Shift", "choose one more"],
  ["A number, then Enter", "what is drawn gets exactly that"],
] as const;

interface Keyed {
  readonly name: string;
  readonly keys: readonly string[];
}

const rowsOf = (commands: readonly Keyed[]) =>
  commands
    .filter(({ keys }) => keys.length > 0)
    .map(({ keys, name }) => [keys.map((key) => keyText(key, IS_MAC)).join(", "), name] as const);

export function KeyList({ tools }: { readonly tools: readonly Tool[] }) {
  const groups = [...new Set(PAGE_COMMANDS.map(({ group }) => group))];
  return (
    <>
      <h2>Keys</h2>
      <div className="key-groups">
        {groups.map((group) => (
          <Group key={group} name={group} rows={rowsOf(PAGE_COMMANDS.filter((one) => one.group === group))} />
        ))}
        <Group name="The sheet" rows={rowsOf(COMMANDS)} />
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
