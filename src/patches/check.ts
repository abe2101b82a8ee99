/*
 * Can a piece lie flat at all? It must have a border, no handle, and its inner borders must turn like holes in a plane: by Gauss and Bonnet
 * a flat ring's outer border turns by 2π and its inner one by −2π, a tube's ends by about 0 each.
 */
import { atan2 } from '../base/elementary.ts';
import type { Account } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { boundaryLoops, eulerCharacteristic } from '../mesh/navigate.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';

/** What a piece is as a surface. */
export type PieceShape = 'disc' | 'ring' | 'tube' | 'closed' | 'handle';

export interface ShapeCheck {
  readonly shape: PieceShape;
  /** Total turn of each border, rad, in the order of `boundaryLoops`. */
  readonly turns: readonly number[];
  readonly eulerCharacteristic: number;
}

/** Classifies a piece. A ring (a disc with holes) may be flattened; the last three need another cut. */
export function checkShape(mesh: HalfEdgeMesh): ShapeCheck {
  const loops = boundaryLoops(mesh);
  const euler = eulerCharacteristic(mesh);
  const turns = loops.map((loop) => totalTurn(mesh, loop));
  if (loops.length === 0) return { shape: 'closed', turns, eulerCharacteristic: euler };
  if (euler + loops.length !== 2) return { shape: 'handle', turns, eulerCharacteristic: euler };
  if (loops.length === 1) return { shape: 'disc', turns, eulerCharacteristic: euler };
  // All but the border that turns most must turn like holes.
  const most = turns.indexOf(Math.max(...turns));
  const isRing = turns.every((turn, i) => i === most || turn < -Math.PI);
  return { shape: isRing ? 'ring' : 'tube', turns, eulerCharacteristic: euler };
}

/** Σ (π − inner angle) along a border, rad. */
function totalTurn(mesh: HalfEdgeMesh, loop: Uint32Array): number {
  let turn = 0;
  for (const first of loop) {
    turn += Math.PI;
    for (let h = first; h !== -1; h = mesh.twin[previousHalfEdge(h)]) turn -= angle(mesh, h);
  }
  return turn;
}

function angle(mesh: HalfEdgeMesh, h: number): number {
  const p = mesh.positions;
  const [a, b, c] = [3 * mesh.faces[h], 3 * mesh.faces[nextHalfEdge(h)], 3 * mesh.faces[previousHalfEdge(h)]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return atan2(Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx), ux * vx + uy * vy + uz * vz);
}

/** What to say about a piece that cannot lie flat. */
export function refusal(name: string, check: ShapeCheck, faces: readonly number[], at: readonly number[]): Account {
  const where = { stage: 'draw', item: name, faces: faces.slice(0, 20), at };
  const code = `patches/${check.shape}`;
  if (check.shape === 'closed')
    return {
      code,
      what: `${name} is closed all round: it has no edge to open it from.`,
      where,
      mend: 'Draw a seam or an opening across it.',
    };
  if (check.shape === 'handle')
    return {
      code,
      what: `${name} runs through itself like a handle (Euler characteristic ${check.eulerCharacteristic}).`,
      where,
      mend: 'Draw a seam around the handle, and one along it.',
    };
  return {
    code,
    what: `${name} is a tube: ${check.turns.length} open edges, none of which is a hole in the others' sheet.`,
    where,
    mend: `Draw ${check.turns.length - 1 === 1 ? 'a seam' : `${check.turns.length - 1} seams`} from one open edge to the other.`,
  };
}
