/** Files dropped anywhere on the page. */
import { useEffect, useState } from "react";

/** True while a file is held over the page; `open` is called with the first one let go. */
export function useDroppedFile(open: (file: File) => Promise<void>): boolean {
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
      const file = event.dataTransfer?.files[0];
      if (file) void open(file);
    };
    addEventListener("dragover", onOver);
    addEventListener("dragleave", onLeave);
    addEventListener("drop", onDrop);
    return () => {
      removeEventListener("dragover", onOver);
      removeEventListener("dragleave", onLeave);
      removeEventListener("drop", onDrop);
    };
  }, [open]);
  return over;
}
