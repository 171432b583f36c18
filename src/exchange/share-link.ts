/**
 * A whole plan in the part of an address after the `#`, which no browser sends to any server: the plan's text, deflated
 * (RFC 1951) and written in the letters that an address takes as they are (base64url, RFC 4648 section 5).
 *
 * Always holds: what comes out of a link is what a file of the same text gives; a link is read in time and memory
 * bounded by `MOST_LETTERS` and `MOST_TEXT`, however much it says it holds; failure is a value, with its reason.
 */
import { hasPlan, MARK } from "./link-mark.js";
import { deflateSync, Inflate, strFromU8, strToU8 } from "fflate";
import type { Plan } from "../plan/schema.js";
import { MOST_TEXT, readPlan, type ReadResult } from "../plan/read.js";
import { writePlan } from "../plan/write.js";

/**
 * Longer links are cut off on their way: mail programs and messengers vary, and addresses of some 8,000 letters arrive
 * almost everywhere (RFC 9110 section 4.1 asks for at least 8,000 octets to be taken).
 */
export const LONGEST_LINK = 8000;
/** A link that is read may be longer than one that is offered, but not without end. */
export const MOST_LETTERS = 400_000;
/** Letters inflated at a time: what comes out is counted after each. */
const PIECE = 4096;

export { hasPlan };

export type LinkResult =
  | { readonly ok: true; readonly fragment: string }
  | { readonly ok: false; readonly length: number; readonly message: string };

/** The part after the `#`; refused where the link would be too long to arrive. `base` is the address it is put to. */
export function linkFragment(plan: Plan, base = ""): LinkResult {
  const text = JSON.stringify(JSON.parse(writePlan(plan)));
  const fragment = MARK + toLetters(deflateSync(strToU8(text), { level: 9 }));
  const length = base.length + 1 + fragment.length;
  if (length > LONGEST_LINK) {
    const message = `the plan would make a link of ${length} letters, of which many programs keep only ${LONGEST_LINK}: send the file instead`;
    return { ok: false, length, message };
  }
  return { ok: true, fragment };
}

/** The plan of a link, read as a file is; what is wrong with the link itself is a problem of the plan. */
export function planOfLink(hash: string, name = "link"): ReadResult {
  const refuse = (message: string): ReadResult => ({
    ok: false,
    report: {
      problems: [{ file: name, record: "plan", property: "", severity: "error", message }],
      setAside: [],
      version: undefined,
      migrated: [],
      readOnly: false,
    },
  });
  const fragment = hash.replace(/^#/, "");
  if (!fragment.startsWith(MARK)) {
    return refuse(hasPlan(fragment) ? "a newer version wrote this link" : "there is no plan in this link");
  }
  const letters = fragment.slice(MARK.length);
  if (letters.length > MOST_LETTERS) {
    return refuse(`${letters.length} letters are too many for a link; at most ${MOST_LETTERS} are read`);
  }
  const bytes = fromLetters(letters);
  if (!bytes) return refuse("the link holds letters that no link has: it seems changed on its way");
  const text = inflated(bytes);
  if (!text.ok) return refuse(text.message);
  return readPlan(text.text, name);
}

type Inflated = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly message: string };

/** Inflates piece by piece and stops when more has come out than any plan has. */
function inflated(bytes: Uint8Array): Inflated {
  const parts: Uint8Array[] = [];
  let size = 0;
  let ended = false;
  const stream = new Inflate((part, final) => {
    parts.push(part);
    size += part.length;
    ended ||= final;
  });
  try {
    for (let at = 0; at < bytes.length && !ended; at += PIECE) {
      stream.push(bytes.subarray(at, at + PIECE), at + PIECE >= bytes.length);
      if (size > MOST_TEXT) return { ok: false, message: `the link unfolds to more than ${MOST_TEXT} letters` };
    }
  } catch {
    return { ok: false, message: "the link cannot be unfolded: it seems cut off or changed on its way" };
  }
  if (!ended) return { ok: false, message: "the link ends too early: it seems cut off" };
  const whole = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return { ok: true, text: strFromU8(whole) };
}

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const VALUES = new Map([...LETTERS].map((letter, value) => [letter, value]));

/** Base64url without padding. */
function toLetters(bytes: Uint8Array): string {
  const out: string[] = [];
  for (let i = 0; i < bytes.length; i += 3) {
    const [a = 0, b, c] = [bytes[i], bytes[i + 1], bytes[i + 2]];
    const bits = (a << 16) | ((b ?? 0) << 8) | (c ?? 0);
    const count = b === undefined ? 2 : c === undefined ? 3 : 4;
    for (let k = 0; k < count; k++) out.push(LETTERS[(bits >> (18 - 6 * k)) & 63] ?? "");
  }
  return out.join("");
}

/** Undefined for letters, or a number of them, that are not base64url. */
function fromLetters(text: string): Uint8Array | undefined {
  if (text.length % 4 === 1) return undefined;
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  let bits = 0;
  let held = 0;
  let at = 0;
  for (const letter of text) {
    const value = VALUES.get(letter);
    if (value === undefined) return undefined;
    bits = ((bits << 6) | value) & 0xff_ff;
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes[at++] = (bits >> held) & 0xff;
  }
  return bytes;
}
