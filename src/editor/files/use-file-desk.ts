/** The file desk with a real page under it: the browser's files, storage, clock, and its ways of being closed. */
import { useEffect, useState } from "react";
import { useStore } from "zustand";
import type { EditorStore } from "../store.js";
import { browserDisk, fromFile } from "./disk.js";
import { offline } from "../offline/offline-store.js";
import { createFileDesk, type FileDesk, type FileDeskState, isUnsaved } from "./file-desk.js";
import { browserHolder } from "./holder.js";
import { pack, unpack } from "./pack.js";
import { pictureOf } from "./picture.js";
import { browserShelf } from "./browser-shelf.js";

export function createPageFileDesk(store: EditorStore): FileDesk {
  return createFileDesk({
    store,
    disk: browserDisk,
    shelf: browserShelf(),
    tab: crypto.randomUUID(),
    freshId: () => crypto.randomUUID(),
    now: Date.now,
    wait: (ms, then) => {
      const timer = setTimeout(then, ms);
      return () => clearTimeout(timer);
    },
    holder: browserHolder(),
    pack,
    unpack,
    picture: ({ settled }) => pictureOf(settled),
    persist: async () => ("storage" in navigator ? navigator.storage.persist() : false),
  });
}

export const useFiles = <T>(files: FileDesk, select: (state: FileDeskState) => T): T => useStore(files.state, select);

/** Keeps work when the page is hidden or closed, and asks before unsaved work is left. */
export function useSafeLeaving(files: FileDesk, store: EditorStore): void {
  useEffect(() => {
    const hurry = (): void => void files.hurry();
    const hidden = (): void => {
      if (document.visibilityState === "hidden") hurry();
    };
    const leaving = (event: BeforeUnloadEvent): void => {
      hurry();
      if (isUnsaved(store.getState()) && !offline.getState().leaving) event.preventDefault();
    };
    addEventListener("pagehide", hurry);
    document.addEventListener("visibilitychange", hidden);
    addEventListener("beforeunload", leaving);
    return () => {
      removeEventListener("pagehide", hurry);
      document.removeEventListener("visibilitychange", hidden);
      removeEventListener("beforeunload", leaving);
    };
  }, [files, store]);
}

interface DroppedItem extends DataTransferItem {
  getAsFileSystemHandle?(): Promise<FileSystemHandle | null>;
}

/** True while a file is held over the page; one that is let go is opened, to be saved straight back where that can be. */
export function useDroppedFile(files: FileDesk): boolean {
  const [over, setOver] = useState(false);
  useEffect(() => {
    const holdsFile = (event: DragEvent) => event.dataTransfer?.types.includes("Files") === true;
    const onOver = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      // Without this the browser opens the file in place of the page.
      event.preventDefault();
      setOver(true);
    };
    const onLeave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const onDrop = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      setOver(false);
      const [item] = event.dataTransfer?.items ?? [];
      const file = item?.getAsFile();
      if (item && file) void openDropped(files, item, file);
    };
    addEventListener("dragover", onOver);
    addEventListener("dragleave", onLeave);
    addEventListener("drop", onDrop);
    return () => {
      removeEventListener("dragover", onOver);
      removeEventListener("dragleave", onLeave);
      removeEventListener("drop", onDrop);
    };
  }, [files]);
  return over;
}

async function openDropped(files: FileDesk, item: DroppedItem, file: File): Promise<void> {
  // Asked for at once: after the drop has passed the browser answers no more.
  const asked = item.getAsFileSystemHandle?.().catch(() => null);
  const handle = await asked;
  await files.openFile(fromFile(file, handle instanceof FileSystemFileHandle ? handle : undefined));
}
