/*
 * The table of tools, in the order of the tray.
 */
import type { Tool } from './tool.ts';
import { brushTool } from './brush.ts';
import { dartTool } from './dart.ts';
import { eraserTool } from './eraser.ts';
import { fillTool } from './fill.ts';
import { fittingTool } from './fitting.ts';
import { lineTool } from './line.ts';
import { measureTool } from './measure.ts';
import { pointTool } from './move-point.ts';
import { pickTool } from './pick.ts';
import { planeTool } from './plane-cut.ts';

export const tools: readonly Tool[] = [
  pickTool,
  brushTool,
  eraserTool,
  fillTool,
  lineTool,
  dartTool,
  pointTool,
  fittingTool,
  measureTool,
  planeTool,
];
