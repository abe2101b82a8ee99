/*
 * Borders of pieces become sides between corners; sides on the two hands of one cut are paired by the half-edges that they came from.
 */
import type { LineKind } from '../lines/line.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { CutGraph } from './cut-graph.ts';
import type { Piece } from './cut-open.ts';
import type { SideKind } from './patch.ts';
import type { Refinement } from './refinement.ts';

/** A side, before seams have names. */
export interface RawSide {
  readonly piece: number;
  /** Half-edges of the refinement, in border order. */
  readonly halfEdges: readonly number[];
  readonly kind: SideKind;
  readonly line?: string;
  readonly lengthMm: number;
}

export interface RawSeam {
  readonly kind: 'seam' | 'dart';
  readonly line: string;
  /** Places in the list of sides. */
  readonly sides: readonly [number, number];
  readonly lengthMm: number;
}

export interface PairedSides {
  readonly sides: readonly RawSide[];
  /** For each piece and each of its loops, places in `sides` in border order. */
  readonly loopsOf: readonly (readonly (readonly number[])[])[];
  readonly seams: readonly RawSeam[];
}

/** Lines that are more than one thing along an edge: the first of these counts. */
const precedence: readonly (LineKind & SideKind)[] = ['opening', 'seam', 'dart'];

/**
 * Sides of all pieces and their seams.
 * @param kindOf kind of each cutting line, mirrored ones included
 * @param areaIds ids of the areas by label
 */
export function pairSides(
  refinement: Refinement,
  graph: CutGraph,
  pieces: readonly Piece[],
  kindOf: ReadonlyMap<string, LineKind>,
  areaIds: readonly string[],
): PairedSides {
  const { corner, twin, cut, cutSets, label } = refinement;
  const pieceAt = new Map<number, number>();
  for (const [i, piece] of pieces.entries()) for (const f of piece.faces) pieceAt.set(f, i);
  const sides: RawSide[] = [];
  const loopsOf = pieces.map((piece, i) =>
    piece.loops.map((loop) => {
      const places: number[] = [];
      for (let at = 0; at < loop.length;) {
        let end = at + 1;
        while (end < loop.length && graph.isCorner[corner[loop[end]]] === 0) end++;
        const halfEdges = loop.slice(at, end);
        places.push(sides.push(describe(i, halfEdges)) - 1);
        at = end;
      }
      return places;
    }),
  );
  function describe(piece: number, halfEdges: readonly number[]): RawSide {
    const h = halfEdges[0];
    const g = twin[h];
    const names = cutSets[cut[h]];
    const kind = precedence.find((wanted) => names.some((name) => kindOf.get(name) === wanted));
    const partner = g === -1 ? undefined : pieceAt.get(Math.floor(g / 3));
    const lengthMm = halfEdges.reduce((sum, half) => sum + graph.lengths[half], 0);
    const line = names.find((name) => kindOf.get(name) === kind);
    const common = { piece, halfEdges, lengthMm };
    if (kind === 'opening' && line !== undefined) return { ...common, kind, line };
    if (partner === undefined) return { ...common, kind: 'border', ...(line === undefined ? {} : { line }) };
    if (line !== undefined && kind !== undefined) return { ...common, kind, line };
    // No line: two areas meet. The seam is named after the later one, whose border it is.
    const later = Math.max(label[Math.floor(h / 3)], label[Math.floor(g / 3)]);
    return { ...common, kind: 'seam', line: `border:${areaIds[later]}` };
  }
  return { sides, loopsOf, seams: pair(refinement, sides) };
}

function pair(refinement: Refinement, sides: readonly RawSide[]): RawSeam[] {
  const { corner, twin } = refinement;
  const sideOf = new Map<number, number>();
  for (const [i, side] of sides.entries()) sideOf.set(side.halfEdges[0], i);
  const seams: RawSeam[] = [];
  for (const [i, side] of sides.entries()) {
    if (side.kind !== 'seam' && side.kind !== 'dart') continue;
    // The other side runs against this one: it starts with the twin of the last half-edge.
    const last = side.halfEdges[side.halfEdges.length - 1];
    const j = sideOf.get(twin[last]);
    if (j === undefined || sides[j].halfEdges.length !== side.halfEdges.length)
      throw new RangeError(`the two sides of a cut do not match at vertex ${corner[nextHalfEdge(last)]}`);
    if (j > i) seams.push({ kind: side.kind, line: side.line ?? '', sides: [i, j], lengthMm: side.lengthMm });
  }
  return seams;
}
