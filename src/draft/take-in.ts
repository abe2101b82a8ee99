/*
 * Taking in or letting out after a fitting: the typed millimetres come out of the seam, half of them from each mate. Where the seam ends at a third
 * part the change fades out, so that no other part changes; where it ends at a finished edge it goes on to the end.
 */
import type { F64 } from '../base/arrays.ts';
import { arcLengths, reversed } from '../plane/polyline.ts';
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
  for (const loop of new Set(borders.map((side) => side.loop))) {
    const around = borders.flatMap((side, i) => (side.loop === loop ? [i] : []));
    around.forEach((i, place) => {
      const j = around[(place + 1) % around.length];
      if (i === j || (inwardMm[i] === 0) === (inwardMm[j] === 0)) return;
      // Both sides as seen from their common corner.
      if (inwardMm[i] !== 0) {
        const met = meet(reversed(points[i]), points[j], inwardMm[i]);
        points[i] = reversed(met.moved);
        points[j] = met.edge;
      } else {
        const met = meet(points[j], reversed(points[i]), inwardMm[j]);
        points[j] = met.moved;
        points[i] = reversed(met.edge);
      }
    });
  }
  return borders.map((side, i) => {
    const lengths = arcLengths(points[i]);
    return { ...side, points: points[i], lengths, lengthMm: lengths[lengths.length - 1] };
  });
}

/** How far a moved side is continued beyond its end to find the edge beside it, as a multiple of its move. */
const reachShare = 4;

/**
 * Makes a moved side and the unmoved edge beside it meet again. Taken in, the edge loses what lay beyond the moved side, or the side is cut short or
 * continued to reach the edge; let out, the edge is continued to the moved side's end.
 * @param moved, edge polylines that start at their common corner
 */
function meet(moved: F64, edge: F64, distance: number): { readonly moved: Float64Array; readonly edge: Float64Array } {
  const [x, y] = [moved[0], moved[1]];
  if (x === edge[0] && y === edge[1]) return { moved: Float64Array.from(moved), edge: Float64Array.from(edge) };
  if (distance < 0) return { moved: Float64Array.from(moved), edge: Float64Array.from([x, y, ...edge]) };
  const [dx, dy] = [moved[0] - moved[2], moved[1] - moved[3]];
  const scale = (reachShare * distance) / Math.max(Math.hypot(dx, dy), Number.MIN_VALUE);
  const long = Float64Array.from([x + scale * dx, y + scale * dy, ...moved]);
  for (let i = 0; i + 3 < edge.length; i += 2)
    for (let j = 0; j + 3 < long.length; j += 2) {
      const [ux, uy] = [edge[i + 2] - edge[i], edge[i + 3] - edge[i + 1]];
      const [vx, vy] = [long[j + 2] - long[j], long[j + 3] - long[j + 1]];
      const determinant = ux * vy - uy * vx;
      if (determinant === 0) continue;
      const [wx, wy] = [long[j] - edge[i], long[j + 1] - edge[i + 1]];
      const [s, t] = [(wx * vy - wy * vx) / determinant, (wx * uy - wy * ux) / determinant];
      if (!(s >= 0 && s <= 1 && t >= 0 && t <= 1)) continue;
      const at = [edge[i] + s * ux, edge[i + 1] + s * uy];
      return {
        moved: Float64Array.from([...at, ...long.slice(j + 2)]),
        edge: Float64Array.from([...at, ...Float64Array.from(edge).slice(i + 2)]),
      };
    }
  return { moved: Float64Array.from(moved), edge: Float64Array.from([x, y, ...Float64Array.from(edge).slice(2)]) };
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
