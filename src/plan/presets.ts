/**
 * The limits a new plan begins with, by scale and body of standards. Every one says where it comes from and how it is
 * known; the owner overrules any of them.
 */
import { averageCar, longestCar, longestTrain } from "../standards/cars.js";
import { curveSlack, straightCentres } from "../standards/centres.js";
import { type Cited, cite, type Figure, PRACTICE } from "../standards/cited.js";
import { benchEdge, overTrack, stagingCentres, wallDistance, yardCentres } from "../standards/clearances.js";
import { deckSeparation, roadbedWidth, stagingSeparation, trackStructure } from "../standards/decks.js";
import { easementFor, NEM_113_DISPENSABLE } from "../standards/easements.js";
import { curveDrag, feltGrade, reverseStraight, STEEPEST, verticalCurve } from "../standards/grades.js";
import { engine, LEAST_TURNOUT, spurWorks, yardWorks } from "../standards/operation.js";
import {
  aisle,
  aisleBackToBack,
  aislePass,
  aisleWork,
  gateDead,
  operators,
  reach,
  reachUnder,
} from "../standards/people.js";
import { leastRadius } from "../standards/radii.js";
import { type Body, type Scale, type ScaleName, standardScale } from "../standards/scales.js";
import type { ClassLimits, Setting, Standards, TrackClass } from "./schema.js";

const TIGHT: Figure = {
  value: 5,
  source: PRACTICE,
  known: "common practice",
  how: "what is built comes out a little different from what is drawn",
};

const setting = <T>({ value, ...cited }: Cited & { readonly value: T }): Setting<T> => ({ value, source: cite(cited) });

/** The complete limits for a scale: one found by name with its body, or one of the seven by its plain name. */
export function presetStandards(scale: Scale | ScaleName, body: Body = "NMRA"): Standards {
  const own = typeof scale === "string" ? standardScale(scale, body) : scale;
  const limits = (trackClass: TrackClass): ClassLimits => classLimits(own, trackClass);
  return {
    body: own.body,
    longestCar: setting(longestCar(own)),
    averageCar: setting(averageCar(own)),
    train: setting(longestTrain(own)),
    classes: {
      main: limits("main"),
      branch: limits("branch"),
      siding: limits("siding"),
      lead: limits("lead"),
      yard: limits("yard"),
      spur: limits("spur"),
      staging: limits("staging"),
    },
    deckSeparation: setting(deckSeparation(own)),
    stagingSeparation: setting(stagingSeparation()),
    ...(own.body === "NEM" && { curveSlack: setting(curveSlack(own)) }),
    overTrack: setting(overTrack(own)),
    trackStructure: setting(trackStructure(own)),
    roadbedWidth: setting(roadbedWidth(own)),
    verticalCurve: setting(verticalCurve(own)),
    curveDrag: setting(curveDrag(own)),
    benchEdge: setting(benchEdge(own)),
    wall: setting(wallDistance(own)),
    tight: setting(TIGHT),
    ...peopleAndRunning(own),
  };
}

/** Settings a plan may lack; readings then take them from here, see `settingOf`. */
const peopleAndRunning = (scale: Scale) => ({
  aisle: setting(aisle()),
  aisleWork: setting(aisleWork()),
  aislePass: setting(aislePass()),
  aisleBackToBack: setting(aisleBackToBack()),
  reach: setting(reach()),
  reachUnder: setting(reachUnder()),
  operators: setting(operators()),
  engine: setting(engine(scale)),
  yardWorks: setting(yardWorks()),
  spurWorks: setting(spurWorks()),
  gateDead: setting(gateDead()),
});

function classLimits(scale: Scale, trackClass: TrackClass): ClassLimits {
  const radius = leastRadius(scale, trackClass);
  return {
    radius: setting(radius),
    easement: setting(easement(scale, trackClass, radius.value)),
    grade: setting(STEEPEST[trackClass]),
    feltGrade: setting(feltGrade(scale, trackClass, radius.value)),
    reverseStraight: setting(reverseStraight(scale, trackClass)),
    centres: setting(centres(scale, trackClass)),
    turnout: setting(LEAST_TURNOUT[trackClass]),
  };
}

const LINES: readonly TrackClass[] = ["main", "branch"];

/** Trains at speed are eased; NEM 113 lets very wide curves go without. */
function easement(scale: Scale, trackClass: TrackClass, radius: number): Figure {
  if (!LINES.includes(trackClass))
    return { value: 0, source: PRACTICE, known: "common practice", how: "none where trains only creep" };
  if (scale.body === "NEM" && radius > NEM_113_DISPENSABLE * scale.gauge)
    return {
      value: 0,
      source: "NEM 113 (2016)",
      known: "read",
      how: `none needed above ${NEM_113_DISPENSABLE} gauges`,
    };
  return easementFor(scale, radius);
}

function centres(scale: Scale, trackClass: TrackClass): Figure {
  if (scale.body === "NEM") return straightCentres(scale, LINES.includes(trackClass) ? "line" : "station");
  if (trackClass === "staging") return stagingCentres(scale);
  return trackClass === "yard" || trackClass === "spur" ? yardCentres(scale) : straightCentres(scale);
}
