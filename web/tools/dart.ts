/*
 * Dart: a cut from the edge of an area to its tip.
 */
import { lineHand } from './line.ts';
import type { Tool } from './tool.ts';

export const dartTool: Tool = {
  name: 'dart',
  title: 'Dart',
  icon: 'dart',
  key: 'D',
  hint: 'Click where the dart begins at the edge, then its tip. Enter ends, Esc lets go.',
  station: 'draw',
  take: (view) => lineHand(view, () => 'dart'),
};
