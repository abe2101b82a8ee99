/*
 * Taking in or letting out after a fitting: the typed millimetres come out of the seam, half of them from each mate. Where the seam ends at a third
 * part the change fades out, so that no other part changes; where it ends at a finished edge it goes on to the end.
 */
import type { F64 } from '../base/arrays.ts';
import { arcLengths } from '../plane/polyline.ts';
import type { BorderSide } from './border.ts';

/** Length over which a change fades out towards a third part, mm; at most a third of the side. */
const fadeMm = 60;

/**
 * The borders of one part with sides moved inward.
 * @param inwardMm how far each side moves into the part; negative outward
 */
export function takeIn(borders: readonly BorderSide[], inwardMm: readonly number[]): BorderSide[] {
  if (inwardMm.every((distance) => distance === 0)) return [...borders];
  const points = borders.map((side, i) => (inwardMm[i] === 0 ? Float64Array.from(side.points) : moveSide(borders, i, inwardMm[i])));
  // A finished edge beside a moved side starts and ends where that side now does.
  for (const loop of new Set(borders.map((side) => side.loop))) {
    const around = borders.flatMap((side, i) => (side.loop === loop ? [i] : []));
    around.forEach((i, place) => {
      const j = around[(place + 1) % around.length];
      if (i === j) return;
      const n = points[i].length;
      if (inwardMm[i] !== 0) points[j].set(points[i].slice(n - 2), 0);
      else if (inwardMm[j] !== 0) points[i].set(points[j].slice(0, 2), n - 2);
    });
  }
  return borders.map((side, i) => {
    const lengths = arcLengths(points[i]);
    return { ...side, points: points[i], lengths, lengthMm: lengths[lengths.length - 1] };
  });
}

const isFree = (side: BorderSide): boolean => side.kind === 'border' || side.kind === 'opening';

function moveSide(borders: readonly BorderSide[], index: number, distance: number): Float64Array {
  const side = borders[index];
  const loop = borders.flatMap((other, i) => (other.loop === side.loop ? [i] : []));
  const place = loop.indexOf(index);
  const before = borders[loop[(place + loop.length - 1) % loop.length]];
  const after = borders[loop[(place + 1) % loop.length]];
  const fade = Math.min(fadeMm, side.lengthMm / 3);
  const moved = Float64Array.from(side.points);
  const n = side.lengths.length;
  for (let i = 0; i < n; i++) {
    const [nx, ny] = inwardAt(side.points, i, side.closed);
    const fromStart = isFree(before) || side.closed ? 1 : smooth(side.lengths[i] / fade);
    const fromEnd = isFree(after) || side.closed ? 1 : smooth((side.lengthMm - side.lengths[i]) / fade);
    moved[2 * i] += distance * fromStart * fromEnd * nx;
    moved[2 * i + 1] += distance * fromStart * fromEnd * ny;
  }
  return moved;
}

/** 0 at 0, 1 from 1 on, level at both: 3x² − 2x³. */
const smooth = (x: number): number => (x >= 1 ? 1 : x * x * (3 - 2 * x));

/** Unit normal to the left of a polyline at its point i: mean of the edges on either side. */
function inwardAt(points: F64, i: number, closed: boolean): readonly [number, number] {
  const last = points.length / 2 - 1;
  const edge = (k: number): readonly [number, number] => {
    const [dx, dy] = [points[2 * k + 2] - points[2 * k], points[2 * k + 3] - points[2 * k + 1]];
    const length = Math.hypot(dx, dy);
    return length > 0 ? [dx / length, dy / length] : [0, 0];
  };
  const before = i > 0 ? edge(i - 1) : closed ? edge(last - 1) : edge(0);
  const after = i < last ? edge(i) : closed ? edge(0) : edge(last - 1);
  const [dx, dy] = [before[0] + after[0], before[1] + after[1]];
  const length = Math.hypot(dx, dy);
  return length > 0 ? [-dy / length, dx / length] : [0, 0];
}
