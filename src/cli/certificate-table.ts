/** The points of a certificate as a table of text: whether met, what, and what was found. */
import { type CertificatePoint, CIVIL_SOURCE } from "../core/index.js";
import { pad } from "./text-columns.js";

export function certificateTable(points: readonly CertificatePoint[]): string {
  const width = Math.max(...points.map(({ label }) => [...label].length));
  const word = ({ met }: CertificatePoint): string => (met === undefined ? "look" : met ? "met" : "not met");
  const rows = points.map((point) => `  ${word(point).padEnd(8)}  ${pad(point.label, width)}  ${point.found}`);
  const met = points.filter((point) => point.met === true).length;
  const open = points.filter((point) => point.met === undefined).length;
  const tally = `${met} of ${points.length} met, ${open} left to your eye`;
  return `\n${["Civil certificate", ...rows, "", tally, CIVIL_SOURCE].join("\n")}\n`;
}
