/*
 * Ids, halves and pairs of pieces: `area.index.L|R|C`, the index by falling area, then by place; the two of a mirrored pair share it.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Plane } from '../body/body.ts';
import { mirrored, sideOf } from '../lines/mirror.ts';
import { faceAreas } from '../mesh/measure.ts';
import type { Piece } from './cut-open.ts';
import type { BodySide } from './patch.ts';

export interface PieceName {
  readonly id: string;
  readonly side: BodySide;
  readonly pair?: string;
  readonly areaMm2: number;
  readonly centroid: Vec3;
}

/** A piece counts as crossing the plane when this share of it or more lies beyond. */
const crossingShare = 0.02;

/** Names for the pieces of one layer, in their order. */
export function namePieces(pieces: readonly Piece[], plane: Plane, isMirrored: boolean, areaIds: readonly string[]): PieceName[] {
  const measured = pieces.map((piece) => measure(piece, plane));
  const partner = isMirrored ? findPairs(pieces, measured, plane) : pieces.map(() => -1);
  const names: PieceName[] = [];
  for (const label of [...new Set(pieces.map((piece) => piece.label))].sort((a, b) => a - b)) {
    // One entry a pair: the left one stands for both.
    const heads = pieces.flatMap((piece, i) => (piece.label === label && (partner[i] === -1 || measured[i].side === 'L') ? [i] : []));
    heads.sort((a, b) => measured[b].areaMm2 - measured[a].areaMm2 || compare(measured[a].centroid, measured[b].centroid));
    for (const [k, i] of heads.entries()) {
      const idOf = (j: number): string => `${areaIds[label]}.${k + 1}.${measured[j].side}`;
      const j = partner[i];
      names[i] = { id: idOf(i), ...measured[i], ...(j === -1 ? {} : { pair: idOf(j) }) };
      if (j !== -1) names[j] = { id: idOf(j), ...measured[j], pair: idOf(i) };
    }
  }
  return names;
}

function compare(a: Vec3, b: Vec3): number {
  return a[0] - b[0] || a[1] - b[1] || a[2] - b[2];
}

function measure(piece: Piece, plane: Plane): { readonly side: BodySide; readonly areaMm2: number; readonly centroid: Vec3 } {
  const areas = faceAreas(piece.mesh);
  const { faces, positions } = piece.mesh;
  const sum: [number, number, number] = [0, 0, 0];
  let [total, onLeft] = [0, 0];
  for (const [f, area] of areas.entries()) {
    const at = [0, 1, 2].map(
      (k) => (positions[3 * faces[3 * f] + k] + positions[3 * faces[3 * f + 1] + k] + positions[3 * faces[3 * f + 2] + k]) / 3,
    );
    for (let k = 0; k < 3; k++) sum[k] += area * at[k];
    total += area;
    if (sideOf(plane, [at[0], at[1], at[2]]) > 0) onLeft += area;
  }
  const share = onLeft / total;
  const side = share > 1 - crossingShare ? 'L' : share < crossingShare ? 'R' : 'C';
  return { side, areaMm2: total, centroid: [sum[0] / total, sum[1] / total, sum[2] / total] };
}

/** For each piece of one half the piece of the other half whose centre its image comes nearest to, both ways; −1 without. */
function findPairs(
  pieces: readonly Piece[],
  measured: readonly { side: BodySide; areaMm2: number; centroid: Vec3 }[],
  plane: Plane,
): number[] {
  const nearest = pieces.map((piece, i) => {
    if (measured[i].side === 'C') return -1;
    const image = mirrored(plane, measured[i].centroid);
    let best = -1;
    let least = Infinity;
    for (const [j, other] of pieces.entries()) {
      if (other.label !== piece.label || measured[j].side === 'C' || measured[j].side === measured[i].side) continue;
      const [a, b] = [measured[i].areaMm2, measured[j].areaMm2];
      // Far apart or of another size is no pair: both count, as lengths.
      const c = measured[j].centroid;
      const distance = Math.hypot(c[0] - image[0], c[1] - image[1], c[2] - image[2]) + Math.abs(Math.sqrt(a) - Math.sqrt(b));
      if (distance < least) [best, least] = [j, distance];
    }
    return best !== -1 && least < Math.sqrt(measured[i].areaMm2) ? best : -1;
  });
  return nearest.map((j, i) => (j !== -1 && nearest[j] === i ? j : -1));
}
