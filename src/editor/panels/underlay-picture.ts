/** A chosen picture made ready to lie under the sheet: turned upright, and no larger than a sheet needs. */

/** px on the longer side: a room of 8 m then shows 4 mm to a px, finer than a pencil line on a napkin. */
const LARGEST = 2048;

export interface ReadyPicture {
  readonly picture: Blob;
  readonly width: number;
  readonly height: number;
}

/** Undefined where the browser cannot read it as a picture. */
export async function readyPicture(file: Blob): Promise<ReadyPicture | undefined> {
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    return undefined;
  }
  const part = Math.min(1, LARGEST / Math.max(bitmap.width, bitmap.height));
  const [width, height] = [Math.max(1, Math.round(bitmap.width * part)), Math.max(1, Math.round(bitmap.height * part))];
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  canvas.getContext("2d")?.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  const picture = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", 0.85));
  return picture ? { picture, width, height } : undefined;
}
