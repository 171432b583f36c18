/** Every tool, the arrow first: it is in hand when nothing else is. Within a stage they stand in the rail in this order. */
import { climbs } from "../climb-store.js";
import { sections } from "../section-store.js";
import type { Tool } from "../tool.js";
import { ARROW, anyTool as tool } from "./arrow.js";
import { besideTool } from "./beside.js";
import { bumperTool } from "./bumper.js";
import { climbRoutesTool } from "./climb-routes.js";
import { climbTool, levelTool } from "./climb.js";
import { crossoverTool } from "./crossover.js";
import { backdropTool } from "./frame-backdrop.js";
import { benchTool } from "./frame-bench.js";
import { decksTool } from "./frame-decks.js";
import { discTool } from "./frame-disc.js";
import { gateTool } from "./frame-gate.js";
import { labelTool } from "./frame-label.js";
import { peninsulaTool } from "./frame-peninsula.js";
import { reshapeTool } from "./frame-reshape.js";
import { sectionTool } from "./frame-section.js";
import { shelfTool } from "./frame-shelf.js";
import { helixTool } from "./helix.js";
import { joinTool } from "./join.js";
import { ladderTool } from "./ladder.js";
import { lineTool } from "./line.js";
import { reverseTool, splitTool } from "./on-track.js";
import { curveTool, straightTool } from "./piece.js";
import { pinTool } from "./pin.js";
import { slipTool } from "./slip.js";
import { ceilingTool } from "./survey-ceiling.js";
import { cornersTool } from "./survey-corners.js";
import { obstacleTool } from "./survey-obstacle.js";
import { doorTool, passageTool, windowTool } from "./survey-openings.js";
import { underlayTool } from "./survey-underlay.js";
import { wallsTool } from "./survey-walls.js";
import { turnoutTool } from "./turnout.js";
import { turntableTool } from "./turntable.js";
import { yardTool } from "./yard.js";

export const TOOLS: readonly Tool[] = [
  ARROW,
  tool(wallsTool),
  tool(cornersTool),
  tool(doorTool),
  tool(windowTool),
  tool(passageTool),
  tool(obstacleTool),
  tool(ceilingTool),
  tool(underlayTool),
  tool(decksTool),
  tool(shelfTool),
  tool(peninsulaTool),
  tool(benchTool),
  tool(discTool),
  tool(backdropTool),
  tool(gateTool),
  tool(reshapeTool),
  tool(labelTool),
  tool(sectionTool(sections)),
  tool(lineTool),
  tool(straightTool),
  tool(curveTool),
  tool(turnoutTool),
  tool(crossoverTool),
  tool(slipTool),
  tool(besideTool),
  tool(joinTool),
  tool(splitTool),
  tool(reverseTool),
  tool(helixTool),
  tool(ladderTool),
  tool(yardTool),
  tool(turntableTool),
  tool(bumperTool),
  tool(pinTool),
  tool(climbTool),
  tool(levelTool),
  tool(climbRoutesTool(climbs)),
];
