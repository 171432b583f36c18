/** The scale someone types, whose standards it has, and the units they think in. */
import { type Body, findScale, type Scale, scalesOf, type Units } from "../core/index.js";
import { Trouble } from "./trouble.js";

const IMPERIAL = /['"′″]|\b(?:ft|in|feet|inch)/i;

/** Who types feet or inches thinks in them, and with them in American practice, where nothing else is said. */
export function wishedScale(
  name: string,
  lengths: string,
  { units, body }: { readonly units?: Units | undefined; readonly body?: Body | undefined },
): { readonly scale: Scale; readonly units: Units } {
  const own = units ?? (body === "NEM" || !IMPERIAL.test(lengths) ? "metric" : "imperial");
  const whose = body ?? (own === "imperial" ? "NMRA" : "NEM");
  const scale = findScale(name, whose);
  if (!scale) {
    const names = scalesOf(whose).map((known) => known.name);
    throw new Trouble(`--scale: no ${whose} scale is called "${name}"; there are ${names.join(", ")}`);
  }
  return { scale, units: own };
}
