/** The options of the plan in the top bar: which is in hand, and what can be done with them. */
import { toggleSideBySide } from "../../option-store.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { keyText } from "../../sheet/keys.js";
import { IS_MAC } from "../../use-page-keys.js";
import { Menu, type MenuGroup, type MenuItem } from "../Menu.js";

/** The commands come when the first of them is asked for. */
const commands = () => import("../../options/option-commands.js");

export function OptionsMenu() {
  const store = useEditorStore();
  const options = useEditor((state) => state.history.plan.options);
  const inHand = useEditor((state) => state.history.plan.option);
  const selected = useEditor((state) => state.selection.length > 0);
  const all = Object.entries(options);
  const name = inHand === undefined ? undefined : options[inHand]?.name;
  const choose = (id: string | undefined, label: string): MenuItem => ({
    id: `choose ${id ?? ""}`,
    name: label,
    current: id === inHand,
    do: () => void commands().then(({ choose: run }) => run(store, id)),
  });
  const move = (id: string | undefined, label: string): MenuItem => ({
    id: `move ${id ?? ""}`,
    name: `Selection to ${label}`,
    do: () => void commands().then(({ moveSelection }) => moveSelection(store, id)),
  });
  const groups: MenuGroup[] = [
    {
      items: [
        { id: "new", name: "New option", do: () => void commands().then(({ addNew }) => addNew(store)) },
        { id: "side-by-side", name: "Side by side", keys: keyText("Alt+7", IS_MAC), do: toggleSideBySide },
      ],
    },
  ];
  if (all.length > 0) {
    groups.unshift({
      name: "In hand",
      items: [...all.map(([id, option]) => choose(id, option.name)), choose(undefined, "None: what belongs to all")],
    });
  }
  if (all.length > 0 && selected) {
    groups.push({
      name: "Move",
      items: [...all.map(([id, option]) => move(id, option.name)), move(undefined, "all options")],
    });
  }
  const label = name === undefined ? "Options" : `Option: ${name}`;
  return (
    <Menu label={label} groups={groups}>
      {label}
    </Menu>
  );
}
