/** A button with a short list under it; arrows, Enter and Esc work as one expects of menus. */
import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from "react";

export interface MenuItem {
  readonly id: string;
  readonly name: string;
  readonly keys?: string;
  readonly current?: boolean;
  readonly do: () => void;
}

export interface MenuGroup {
  readonly name?: string;
  readonly items: readonly MenuItem[];
}

export interface MenuProps {
  readonly label: string;
  readonly children: ReactNode;
  readonly groups: readonly MenuGroup[];
}

export function Menu({ label, children, groups }: MenuProps) {
  const [open, setOpen] = useState(false);
  const id = useId();
  const list = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const items = (): HTMLElement[] => [...(list.current?.querySelectorAll<HTMLElement>('[role="menuitem"]') ?? [])];
  useEffect(() => {
    if (!open) return;
    items()[0]?.focus();
    const away = (event: Event): void => {
      if (
        event.target instanceof Node &&
        !list.current?.contains(event.target) &&
        !button.current?.contains(event.target)
      )
        setOpen(false);
    };
    addEventListener("pointerdown", away);
    return () => removeEventListener("pointerdown", away);
  }, [open]);
  const close = (): void => {
    setOpen(false);
    button.current?.focus();
  };
  const onKey = (event: KeyboardEvent): void => {
    const all = items();
    const at = all.findIndex((item) => item === document.activeElement);
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step !== undefined) all[(at + step + all.length) % all.length]?.focus();
    else if (event.key === "Home") all[0]?.focus();
    else if (event.key === "End") all.at(-1)?.focus();
    else if (event.key === "Escape") close();
    else if (event.key === "Tab") return setOpen(false);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div className="menu">
      <button
        ref={button}
        type="button"
        className="button"
        aria-haspopup="menu"
        aria-expanded={open}
        aria-controls={open ? id : undefined}
        onClick={() => setOpen(!open)}
        onKeyDown={(event) => {
          if (event.key === "ArrowDown" && !open) {
            event.preventDefault();
            setOpen(true);
          }
        }}
      >
        {children}
      </button>
      {open && (
        <div className="menu-list" id={id} role="menu" aria-label={label} ref={list} onKeyDown={onKey} tabIndex={-1}>
          {groups.map((group, index) => (
            <div key={group.name ?? index} role="group" aria-label={group.name}>
              {group.name && <p aria-hidden="true">{group.name}</p>}
              {group.items.map((item) => (
                <button
                  key={item.id}
                  type="button"
                  role="menuitem"
                  tabIndex={-1}
                  aria-current={item.current || undefined}
                  onClick={() => {
                    close();
                    item.do();
                  }}
                >
                  <span>{item.name}</span>
                  {item.keys && <kbd aria-hidden="true">{item.keys}</kbd>}
                </button>
              ))}
            </div>
          ))}
        </div>
      )}
    </div>
  );
}
