/** The editor's store, for the components under the page. */
import { createContext, useContext } from "react";
import { useStore } from "zustand";
import type { EditorActions, EditorState, EditorStore } from "./store.js";

export const EditorContext = createContext<EditorStore | undefined>(undefined);

export function useEditorStore(): EditorStore {
  const store = useContext(EditorContext);
  if (!store) throw new Error("a part of the editor stands outside its page");
  return store;
}

/** A part of the editor's state; the component is drawn again when that part is another. */
export const useEditor = <T>(select: (state: EditorState & EditorActions) => T): T =>
  useStore(useEditorStore(), select);
