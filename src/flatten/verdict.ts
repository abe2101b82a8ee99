/*
 * What the sheet must take, and whether it can: strain 1/σ − 1 by face, dart tips left out, judged against the material's limits by the
 * largest connected patch of faces beyond a limit (contract: above 4 cm² counts).
 */
import type { F64, U8, Vec3 } from '../base/arrays.ts';
import { dartTipMm, leastSigma, strainPatchMm2 } from '../base/tolerance.ts';
import type { Material } from '../materials/material.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { Patch } from '../patches/patch.ts';
import type { FaceDistortion } from './distortion.ts';
import type { Verdict } from './flat-part.ts';

/** Strain of each face: how much the sheet must stretch and how much it must be squeezed, ratios, both at least 0. */
export interface FaceStrain {
  /** max(0, 1/σ₂ − 1). */
  readonly stretch: F64;
  /** max(0, 1 − 1/σ₁). */
  readonly squeeze: F64;
}

/** Strains of all faces; σ₂ below 1e-6 (collapsed or flipped) counts as 1e-6. */
export function faceStrain(distortion: FaceDistortion): FaceStrain {
  const stretch = new Float64Array(distortion.area.length);
  const squeeze = new Float64Array(distortion.area.length);
  for (let f = 0; f < stretch.length; f++) {
    stretch[f] = Math.max(0, 1 / Math.max(distortion.sigma2[f], leastSigma) - 1);
    squeeze[f] = Math.max(0, 1 - 1 / Math.max(distortion.sigma1[f], leastSigma));
  }
  return { stretch, squeeze };
}

/** Vertices where a cut ends inside the patch: two neighbouring sides of one dart, of one seam with itself, or of one opening. */
export function cutTips(patch: Patch): number[] {
  const tips: number[] = [];
  for (const loop of patch.loops) {
    for (let i = 0; i < loop.length; i++) {
      const side = patch.sides[loop[i]];
      const next = patch.sides[loop[(i + 1) % loop.length]];
      if (side === next) continue;
      const isSameSeam = side.seam !== undefined && side.seam === next.seam;
      const isSameOpening = side.kind === 'opening' && next.kind === 'opening' && side.line !== undefined && side.line === next.line;
      const vertex = patch.mesh.faces[nextHalfEdge(side.halfEdges[side.halfEdges.length - 1])];
      if ((isSameSeam || (isSameOpening && turnsBack(patch.mesh, vertex))) && !tips.includes(vertex)) tips.push(vertex);
    }
  }
  return tips;
}

/** More than three quarters of a full turn of surface around a border vertex: the border runs in and out again. */
function turnsBack(mesh: HalfEdgeMesh, v: number): boolean {
  const p = mesh.positions;
  let cornersBeyondRight = 0;
  let product: readonly [number, number] = [1, 0];
  let h = mesh.vertexHalfEdge[v];
  while (h !== -1) {
    const a = 3 * mesh.faces[h];
    const b = 3 * mesh.faces[nextHalfEdge(h)];
    const c = 3 * mesh.faces[nextHalfEdge(nextHalfEdge(h))];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const cosine = ux * vx + uy * vy + uz * vz;
    const sine = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
    const size = Math.hypot(cosine, sine) || 1;
    const turned = [(product[0] * cosine - product[1] * sine) / size, (product[0] * sine + product[1] * cosine) / size] as const;
    // Corner angles are below π, so each full quadrant that the running direction enters is counted once.
    cornersBeyondRight += (quadrant(turned) - quadrant(product) + 4) % 4;
    product = turned;
    h = mesh.twin[nextHalfEdge(nextHalfEdge(h))];
  }
  return cornersBeyondRight >= 3;
}

function quadrant(direction: readonly [number, number]): number {
  if (direction[1] >= 0) return direction[0] > 0 ? 0 : 1;
  return direction[0] < 0 ? 2 : 3;
}

/** 1 for each face whose centre lies within 10 mm of a tip: left out of the judgement. */
export function facesAtTips(mesh: HalfEdgeMesh, tips: readonly number[]): Uint8Array {
  const isNear = new Uint8Array(mesh.faces.length / 3);
  if (tips.length === 0) return isNear;
  for (let f = 0; f < isNear.length; f++) {
    const [x, y, z] = faceCentre(mesh, f);
    for (const v of tips) {
      const distance = Math.hypot(x - mesh.positions[3 * v], y - mesh.positions[3 * v + 1], z - mesh.positions[3 * v + 2]);
      if (distance < dartTipMm) isNear[f] = 1;
    }
  }
  return isNear;
}

/** Centre of a face on the surface. */
export function faceCentre(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, f: number): Vec3 {
  const { positions: p, faces } = mesh;
  const [a, b, c] = [3 * faces[3 * f], 3 * faces[3 * f + 1], 3 * faces[3 * f + 2]];
  return [(p[a] + p[b] + p[c]) / 3, (p[a + 1] + p[b + 1] + p[c + 1]) / 3, (p[a + 2] + p[b + 2] + p[c + 2]) / 3];
}

/** The face where the larger of stretch and squeeze is largest, judged faces only; face 0 if none is judged. */
export function worstFace(strain: FaceStrain, isLeftOut: U8): number {
  let worst = 0;
  let largest = -1;
  for (let f = 0; f < strain.stretch.length; f++) {
    const here = Math.max(strain.stretch[f], strain.squeeze[f]);
    if (isLeftOut[f] === 1 || here <= largest) continue;
    largest = here;
    worst = f;
  }
  return worst;
}

/** The limits of one state of a material, ratios. */
export interface StrainLimits {
  readonly stretch: number;
  readonly squeeze: number;
}

/** Area of the largest connected patch of judged faces beyond a limit, mm², and one of its faces (−1: none). */
export function largestBeyond(
  mesh: HalfEdgeMesh,
  area: F64,
  strain: FaceStrain,
  isLeftOut: U8,
  limits: StrainLimits,
): { readonly areaMm2: number; readonly face: number } {
  const total = area.length;
  const isBeyond = new Uint8Array(total);
  for (let f = 0; f < total; f++)
    isBeyond[f] = isLeftOut[f] === 0 && (strain.stretch[f] > limits.stretch || strain.squeeze[f] > limits.squeeze) ? 1 : 0;
  const stack = new Uint32Array(total);
  let best = { areaMm2: 0, face: -1 };
  for (let seed = 0; seed < total; seed++) {
    if (isBeyond[seed] === 0) continue;
    let top = 0;
    let sum = 0;
    stack[top++] = seed;
    isBeyond[seed] = 0;
    while (top > 0) {
      const f = stack[--top];
      sum += area[f];
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const neighbour = mesh.twin[h] === -1 ? -1 : Math.floor(mesh.twin[h] / 3);
        if (neighbour === -1 || isBeyond[neighbour] === 0) continue;
        isBeyond[neighbour] = 0;
        stack[top++] = neighbour;
      }
    }
    if (sum > best.areaMm2) best = { areaMm2: sum, face: seed };
  }
  return best;
}

/** Whether a sheet of this material takes the strain cold, hot, or not at all. */
export function judge(
  mesh: HalfEdgeMesh,
  area: F64,
  strain: FaceStrain,
  isLeftOut: U8,
  material: Material,
): { readonly verdict: Verdict; readonly beyondMm2: number; readonly face: number } {
  const hot = largestBeyond(mesh, area, strain, isLeftOut, { stretch: material.stretchHot.value, squeeze: material.squeezeHot.value });
  if (hot.areaMm2 > strainPatchMm2) return { verdict: 'needs-seam', beyondMm2: hot.areaMm2, face: hot.face };
  const cold = largestBeyond(mesh, area, strain, isLeftOut, { stretch: material.stretchCold.value, squeeze: material.squeezeCold.value });
  if (cold.areaMm2 > strainPatchMm2) return { verdict: 'hot', beyondMm2: cold.areaMm2, face: cold.face };
  return { verdict: 'cold', beyondMm2: 0, face: -1 };
}
