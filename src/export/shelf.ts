/*
 * Small drawings side by side on shelves, as many as a page holds, so that templates do not take a page each. Order is kept.
 */
import type { Vec2 } from '../base/arrays.ts';
import { curveMm } from '../base/tolerance.ts';
import type { Drawing } from '../draft/drawing.ts';
import { flattenCurve, mapCurve } from '../draft/curve.ts';
import { boxOf } from './box.ts';

const gapMm = 6;

/** A drawing with the words for the foot of its page. */
export interface ShelfItem {
  readonly name: string;
  readonly drawing: Drawing;
}

/**
 * Groups of items, each laid out on one drawing no larger than the room; an item larger than the room is a group of its own.
 * @param room width and height, mm
 */
export function packShelves(items: readonly ShelfItem[], room: Vec2): readonly ShelfItem[] {
  const groups: { names: string[]; drawings: Drawing[] }[] = [];
  let [x, y, shelf] = [0, 0, Infinity];
  for (const { name, drawing } of items) {
    const box = boxOf(...drawing.paths.map(({ curve }) => flattenCurve(curve, curveMm)));
    const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
    if (x + width > room[0]) [x, y, shelf] = [0, y + shelf + gapMm, 0];
    if (groups.length === 0 || y + height > room[1]) {
      groups.push({ names: [], drawings: [] });
      [x, y, shelf] = [0, 0, 0];
    }
    const group = groups[groups.length - 1];
    group.names.push(name);
    group.drawings.push(shifted(drawing, [x - box.minX, -y - box.maxY]));
    x += width + gapMm;
    shelf = Math.max(shelf, height);
  }
  return groups.map(({ names, drawings }) => ({
    name: names.join(', '),
    drawing: { paths: drawings.flatMap(({ paths }) => paths), labels: drawings.flatMap(({ labels }) => labels) },
  }));
}

function shifted(drawing: Drawing, by: Vec2): Drawing {
  const move = ([x, y]: Vec2): Vec2 => [x + by[0], y + by[1]];
  return {
    paths: drawing.paths.map((path) => ({ ...path, curve: mapCurve(path.curve, move) })),
    labels: drawing.labels.map((label) => ({ ...label, at: move(label.at) })),
  };
}
