/*
 * Brush: paints the active area.
 */
import { strokeHand } from './stroke-hand.ts';
import type { Tool } from './tool.ts';

export const brushTool: Tool = {
  name: 'brush',
  title: 'Brush',
  icon: 'brush',
  key: 'B',
  hint: 'Drag over the skin to paint. Wheel: size. Drag beside the body, or with the right button, to turn it.',
  station: 'draw',
  take: (view) => strokeHand(view, 'paint'),
};
