/** The picture under the sheet, painted first on the ground layer. */
import type { UnderlayPlacement } from "../../drafting/underlay.js";

/**
 * Paints on a canvas whose transform is already that of the sheet (millimetres, y up). Nothing happens until the picture
 * has been loaded.
 */
export function paintUnderlay(
  canvas: CanvasRenderingContext2D,
  image: HTMLImageElement | undefined,
  { at, heading, scale, width, height, strength }: UnderlayPlacement,
): void {
  if (!image?.complete || image.naturalWidth === 0) return;
  canvas.save();
  canvas.globalAlpha = strength;
  canvas.translate(at.x, at.y);
  canvas.rotate(heading);
  // Rows of a picture run downwards.
  canvas.scale(scale, -scale);
  canvas.drawImage(image, 0, -height, width, height);
  canvas.restore();
}

/** Loads pictures by their address, one at a time; `loaded` is called when one can be painted. */
export function underlayLoader(loaded: () => void): (url: string | undefined) => HTMLImageElement | undefined {
  let now: { readonly url: string; readonly image: HTMLImageElement } | undefined;
  return (url) => {
    if (url === undefined) now = undefined;
    else if (now?.url !== url) {
      const image = new Image();
      image.addEventListener("load", loaded);
      image.src = url;
      now = { url, image };
    }
    return now?.image;
  };
}
