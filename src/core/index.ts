/** The library's front door: everything a program needs to go from a plan file to its layout, readings and drawings. */
export { deckOfEnd, usualClass } from "../climb/end-class.js";
export {
  type ClimbPad,
  type ClimbSheet,
  climbSheet,
  type ClimbSheetResult,
  type ClimbSums,
  type ClimbWishes,
  SHEET_GRADES,
  type SheetCheck,
  steepestGrade,
} from "../climb/climb-sheet.js";
export { climbEndName, climbEndNamed, type NamedEnd } from "../climb/name-ends.js";
export {
  type ClimbEnd,
  type ClimbFigures,
  type ClimbRequest,
  type ClimbRoute,
  type ClimbStep,
  RANKINGS,
  type Ranking,
  type Relaxation,
  type Shortfall,
} from "../climb/request.js";
export { searchClimb } from "../climb/search-climb.js";
export { takeFoundRoute } from "../climb/take-found-route.js";
export { parseScale } from "../drafting/drawing-scale.js";
export { decksInOrder, firstDeck } from "../drafting/decks.js";
export { lengthText, percentText, type Units } from "../drafting/figures.js";
export {
  deckTable,
  gradeTable,
  type SheetFact,
  sheetFacts,
  sheetSentences,
  type SheetTable,
} from "../exchange/climb-sheet-text.js";
export {
  type ClimbColumn,
  climbTable,
  NONE_FOUND,
  relaxationText,
  shortfallSentences,
} from "../exchange/climb-text.js";
export {
  grouped,
  limitText,
  placeText,
  quantityText,
  READING_GROUPS,
  type ReadingGroup,
  type Tally,
  tally,
  tallyText,
  VERDICTS,
  valueText,
} from "../exchange/readings-text.js";
export {
  type Candidate,
  candidatesOf,
  CHANGES,
  compare,
  type ComparedCell,
  type ComparedRow,
  type Comparison,
  optionsOf,
} from "../exchange/compare.js";
export { type CsvResult, heightsCsv, MOST_ROWS, readingsCsv } from "../exchange/csv.js";
export { drawDxf, type DxfOptions } from "../exchange/dxf.js";
export { limitNamed, limitValueText } from "../exchange/limit-names.js";
export { drawClimbSheetSvg } from "../exchange/svg/climb-sheet.js";
export { DEFAULT_SCALE, type DrawOptions, drawSvg } from "../exchange/svg/draw.js";
export { PALETTES, type Palette, type Theme } from "../exchange/svg/palette.js";
export { drawProfileSvg, type ProfileOptions } from "../exchange/svg/profile.js";
export { drawSectionSvg, type SectionOptions } from "../exchange/svg/section.js";
export { drawWebPage, type WebPageOptions } from "../exchange/web-page.js";
export { type JoinedPath, type JoinOptions, joinPoses } from "../geometry/join.js";
export { curvatureAt, makePath, type Path, poseAt, reversePath, samplePath, splitPath } from "../geometry/path.js";
export type { Point, Pose } from "../geometry/pose.js";
export type { Segment } from "../geometry/segment.js";
export { deriveLayout } from "../layout/derive.js";
export type { Finding, HiddenStretch, Layout } from "../layout/layout.js";
export type { Line, LineKey, LinePlace, PlacedTurnout } from "../layout/line.js";
export { deckNamed, placesNamed } from "../layout/place-names.js";
export { heightAt, type Profile, slopeAt } from "../layout/profile.js";
export { type Cut, deriveSection, type Section } from "../layout/section.js";
export { operatorsOf, standIn, type Standing } from "../layout/section-sight.js";
export { findRoute, type Route, type RouteEnd, type Stretch } from "../layout/route.js";
export { type PlanDifferences, planDifferences, type RecordDifference } from "../plan/differences.js";
export { limitsOf } from "../plan/class-limits.js";
export { type EmptyPlanWishes, emptyPlan } from "../plan/empty-plan.js";
export { formatLength, type LengthFormat } from "../plan/format-length.js";
export { parseGrade } from "../plan/grade-text.js";
export { planJsonSchema, planJsonSchemaText } from "../plan/json-schema.js";
export { type ParsedLength, parseLength } from "../plan/parse-length.js";
export { type ParsedPoint, parsePoint } from "../plan/parse-point.js";
export { presetStandards } from "../plan/presets.js";
export { type Problem, printProblem } from "../plan/problem.js";
export { type ReadOptions, type ReadResult, type Report, readPlan } from "../plan/read.js";
export { FORMAT, type Id, type Operator, type Plan, TRACK_CLASSES, type TrackClass, VERSION } from "../plan/schema.js";
export { writePlan } from "../plan/write.js";
export {
  type Place,
  READING_IDS,
  type Reading,
  type ReadingId,
  type ReadingUnit,
  type Verdict,
} from "../readings/reading.js";
export { type CertificatePoint, CIVIL_SOURCE, civilCertificate } from "../readings/certificate.js";
export { throwsOf } from "../readings/envelope.js";
export { takeReadings } from "../readings/take.js";
export { BODIES, type Body, findScale, type Scale, type ScaleName, scalesOf } from "../standards/scales.js";
