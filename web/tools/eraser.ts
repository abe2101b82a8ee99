/*
 * Eraser: takes paint off the active area.
 */
import { strokeHand } from './stroke-hand.ts';
import type { Tool } from './tool.ts';

export const eraserTool: Tool = {
  name: 'eraser',
  title: 'Erase',
  icon: 'eraser',
  key: 'E',
  hint: 'Drag over the skin to take paint off the chosen area. Wheel: size.',
  station: 'draw',
  take: (view) => strokeHand(view, 'erase'),
};
