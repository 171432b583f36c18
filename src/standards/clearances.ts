/** What must stay free beside and over a track, and how far a track keeps from the edge of its bench and from walls. */
import { citedRows } from "./cars.js";
import { type Cited, type Figure, inches, PRACTICE } from "./cited.js";
import { lengthFor, type Scale, type ScaleName } from "./scales.js";

type Gauge = { readonly width: number; readonly height: number };
/** NEM 102: full width BL1 and height HL4 above the railhead, without catenary, mm. */
export const NEM_102_ROWS: Readonly<Partial<Record<ScaleName, Gauge>>> = {
  Z: { width: 20, height: 24 },
  N: { width: 27, height: 33 },
  TT: { width: 36, height: 43 },
  HO: { width: 48, height: 59 },
  S: { width: 66, height: 78 },
  O: { width: 94, height: 109 },
};
export const NEM_102: Cited = { source: "NEM 102 (2017)", known: "read" };

/** NMRA S-7, HO: height H of modern equipment's clearance, and the full width of the clearance gage. */
export const S_7_HEIGHT: Figure = {
  value: inches(3 + 5 / 32),
  source: "NMRA S-7 (2012), H, modern",
  known: "read second hand",
};
export const S_7_WIDTH: Figure = {
  value: inches(2 + 1 / 16),
  source: "NMRA HO clearance gage",
  known: "read second hand",
};

const nemColumn = (column: keyof Gauge) =>
  citedRows(Object.fromEntries(Object.entries(NEM_102_ROWS).map(([name, row]) => [name, row[column]])), NEM_102);

/** Full width to be kept free on straight track. */
export const structureWidth = (scale: Scale): Figure =>
  scale.body === "NEM" ? lengthFor(scale, nemColumn("width"), "NEM") : lengthFor(scale, { HO: S_7_WIDTH }, "NMRA");

/** Height to be kept free over the railhead, without catenary. */
export const overTrack = (scale: Scale): Figure =>
  scale.body === "NEM" ? lengthFor(scale, nemColumn("height"), "NEM") : lengthFor(scale, { HO: S_7_HEIGHT }, "NMRA");

const practiceInHO = (value: number, how: string): Figure => ({
  value: inches(value),
  source: PRACTICE,
  known: "common practice",
  how,
});

/** From a centre line to the edge of its bench. */
export const benchEdge = (scale: Scale): Figure =>
  lengthFor(scale, { HO: practiceInHO(1.25, "1.25 in in HO, so that a derailed car stays on the bench") }, "NMRA");

/** From a centre line to a wall, backdrop or obstacle. */
export const wallDistance = (scale: Scale): Figure =>
  lengthFor(scale, { HO: practiceInHO(2, "2 in from a backdrop in HO") }, "NMRA");

/** From one staging track to the next, with room for fingers. */
export const stagingCentres = (scale: Scale): Figure =>
  lengthFor(scale, { HO: practiceInHO(2.5, "finger room in staging, 2.5 to 2.75 in in HO") }, "NMRA");

/** From one yard track to the next. */
export const yardCentres = (scale: Scale): Figure =>
  lengthFor(scale, { HO: practiceInHO(2, "2 in on straight yard tracks in HO") }, "NMRA");
