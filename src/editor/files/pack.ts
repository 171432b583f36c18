/** Versions are kept small: deflated (RFC 1951) by the browser itself, or as they are where it cannot. */
import type { KeptVersion } from "./shelf.js";

export async function pack(text: string): Promise<KeptVersion["packed"]> {
  if (!("CompressionStream" in globalThis)) return text;
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** Rejects what is no packed text. */
export async function unpack(packed: KeptVersion["packed"]): Promise<string> {
  if (typeof packed === "string") return packed;
  const stream = new Blob([new Uint8Array(packed)]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Response(stream).text();
}
