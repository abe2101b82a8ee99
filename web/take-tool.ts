/*
 * Taking a tool in hand: the station that it belongs to comes with it.
 */
import type { ToolName } from './state.ts';
import { station, tool } from './state.ts';
import { tools } from './tools/index.ts';

export function takeTool(name: ToolName): void {
  const entry = tools.find((known) => known.name === name);
  if (entry?.station) station.value = entry.station;
  tool.value = name;
}
