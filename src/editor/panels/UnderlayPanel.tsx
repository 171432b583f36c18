/** The picture under the sheet: chosen, faded, taken away. Shown while its tool is in hand; it keeps the picture even then when it is not. */
import { useEffect, useId, useRef, useState } from "react";
import { placeUnderlay, STRENGTHS, type UnderlayPlacement } from "../../drafting/underlay.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { roomBox } from "../room-box.js";
import type { EditorState } from "../store.js";
import { readyPicture } from "./underlay-picture.js";
import { underlayStorage } from "./underlay-storage.js";

/** ms after the last change before it is kept. */
const SETTLE = 300;

const planName = (state: EditorState): string => state.fileName || state.plan.title;

export function UnderlayPanel() {
  const store = useEditorStore();
  const inHand = useEditor((state) => state.tool === "picture");
  const placement = useEditor((state) => state.underlay?.placement);
  const { choose, trouble } = useKeptUnderlay();
  const strength = useId();
  if (!inHand) return null;

  const lay = (next: UnderlayPlacement): void => {
    const state = store.getState();
    if (state.underlay) state.setUnderlay({ ...state.underlay, placement: next });
  };
  return (
    <section className="underlay" aria-label="Picture under the sheet">
      <label>
        {placement ? "Another picture" : "Choose a picture"}
        <input
          type="file"
          accept="image/*"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file) void choose(file);
            event.target.value = "";
          }}
        />
      </label>
      {placement && (
        <>
          <label htmlFor={strength}>Strength</label>
          <input
            id={strength}
            type="range"
            min={STRENGTHS.least}
            max={STRENGTHS.most}
            step={STRENGTHS.step}
            value={placement.strength}
            onChange={(event) => lay({ ...placement, strength: Number(event.target.value) })}
          />
          <button type="button" onClick={() => store.getState().setUnderlay(undefined)}>
            Take it away
          </button>
        </>
      )}
      <p className="quiet">It is kept in this browser, not in the plan’s file.</p>
      {trouble && <p className="fault">{trouble}</p>}
    </section>
  );
}

/** Brings back the picture kept for the plan that is open, and keeps what becomes of it. */
function useKeptUnderlay() {
  const store = useEditorStore();
  const name = useEditor(planName);
  const [storage] = useState(() => underlayStorage());
  const [trouble, setTrouble] = useState<string>();
  const [opened, setOpened] = useState(0);
  const picture = useRef<Blob>(undefined);

  useEffect(() => {
    let gone = false;
    const bringBack = async (): Promise<void> => {
      try {
        const kept = await storage.get(name);
        if (gone || !kept || store.getState().underlay) return;
        picture.current = kept.picture;
        store.getState().setUnderlay({ url: URL.createObjectURL(kept.picture), placement: kept.placement });
      } catch {
        setTrouble("This browser keeps no pictures: choose it again next time.");
      }
    };
    void bringBack();
    return () => {
      gone = true;
    };
    // `opened`: a plan opened anew may have the name of the last.
  }, [name, opened, storage, store]);

  useEffect(() => {
    let waiting: ReturnType<typeof setTimeout> | undefined;
    const end = store.subscribe((now, before) => {
      if (now.underlay === before.underlay) return;
      if (before.underlay && before.underlay.url !== now.underlay?.url) URL.revokeObjectURL(before.underlay.url);
      clearTimeout(waiting);
      // A plan was opened: nothing was taken away, and its own picture comes by itself.
      if (now.history !== before.history) return setOpened((count) => count + 1);
      const keep = async (): Promise<void> => {
        const { underlay } = store.getState();
        try {
          if (!underlay) await storage.remove(planName(now));
          else if (picture.current) {
            await storage.put({ plan: planName(now), picture: picture.current, placement: underlay.placement });
          }
          setTrouble(undefined);
        } catch {
          setTrouble("The picture could not be kept: this browser’s storage is full or closed.");
        }
      };
      waiting = setTimeout(() => void keep(), SETTLE);
    });
    return () => {
      clearTimeout(waiting);
      end();
    };
  }, [storage, store]);

  const choose = async (file: Blob): Promise<void> => {
    const ready = await readyPicture(file);
    if (!ready) return setTrouble("That file is not a picture this browser can read.");
    setTrouble(undefined);
    picture.current = ready.picture;
    const state = store.getState();
    const placement = placeUnderlay(ready.width, ready.height, roomBox(state.plan));
    state.setUnderlay({ url: URL.createObjectURL(ready.picture), placement });
  };
  return { choose, trouble };
}
