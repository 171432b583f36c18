/** The size of an element in whole px, as it is and as it becomes; undefined until it is measured. */
import { type RefObject, useEffect, useState } from "react";

export interface Size {
  readonly width: number;
  readonly height: number;
}

export function useSizeOf(box: RefObject<Element | null>): Size | undefined {
  const [size, setSize] = useState<Size>();
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    const watcher = new ResizeObserver(() => {
      const { width, height } = element.getBoundingClientRect();
      setSize({ width: Math.floor(width), height: Math.floor(height) });
    });
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [box]);
  return size;
}
