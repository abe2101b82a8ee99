/*
 * What a surface must be before it can be laid flat: one sheet with an open edge, no handle, no vertex where it only touches itself, no
 * face without area. Each refusal names the faces and the cut that is missing.
 */
import { Failure } from '../base/failure.ts';
import { sliverShare } from '../base/tolerance.ts';
import { faceComponents } from '../mesh/components.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { boundaryLoops, eulerCharacteristic } from '../mesh/navigate.ts';

const faultLimit = 20;

/**
 * Checks a patch and counts its borders.
 * @param mesh surface positions, shape 3·n
 * @returns the number of boundary loops: 1 for a disc, 2 for a ring …
 * @throws flatten/no-faces, flatten/several-pieces, flatten/closed, flatten/pinched, flatten/has-handle, flatten/no-area
 */
export function checkFlattenable(mesh: HalfEdgeMesh): number {
  if (mesh.faces.length === 0)
    throw new Failure(
      'flatten/no-faces',
      'The piece has no faces.',
      { stage: 'flatten' },
      'Paint the area larger, or export the mesh with its faces.',
    );
  const components = faceComponents(mesh);
  if (components.count > 1)
    throw new Failure(
      'flatten/several-pieces',
      `The piece falls into ${components.count} parts that share no edge.`,
      { stage: 'flatten', faces: firstFaceOfEach(components.labels, components.count) },
      'Lay each part flat by itself.',
    );
  const loopCount = boundaryLoops(mesh).length;
  if (loopCount === 0)
    throw new Failure(
      'flatten/closed',
      'The surface is closed: it has no open edge to lay it flat from.',
      { stage: 'flatten' },
      'Draw a seam that opens it, or paint only a part of it.',
    );
  refusePinches(mesh);
  const handles = (2 - loopCount - eulerCharacteristic(mesh)) / 2;
  if (handles > 0)
    throw new Failure(
      'flatten/has-handle',
      `The piece has ${handles} handle${handles > 1 ? 's' : ''}, like the ring of a cup: no map lays that flat.`,
      { stage: 'flatten' },
      'Draw a seam that cuts through the handle.',
    );
  refuseFacesWithoutArea(mesh);
  return loopCount;
}

function firstFaceOfEach(labels: Int32Array, count: number): number[] {
  const first: number[] = [];
  for (let label = 0; label < Math.min(count, faultLimit); label++) first.push(labels.indexOf(label));
  return first;
}

function refusePinches(mesh: HalfEdgeMesh): void {
  const fans = new Uint8Array(mesh.positions.length / 3);
  const pinched: number[] = [];
  for (let h = 0; h < mesh.faces.length && pinched.length < faultLimit; h++) {
    if (mesh.twin[h] !== -1) continue;
    if (++fans[mesh.faces[h]] === 2) pinched.push(Math.floor(h / 3));
  }
  if (pinched.length > 0)
    throw new Failure(
      'flatten/pinched',
      `The piece touches itself in ${pinched.length} single point${pinched.length > 1 ? 's' : ''}.`,
      { stage: 'flatten', faces: pinched },
      'Move the line or the area border away from that point.',
    );
}

function refuseFacesWithoutArea(mesh: HalfEdgeMesh): void {
  const { positions: p, faces } = mesh;
  const bad: number[] = [];
  for (let f = 0; f < faces.length / 3 && bad.length < faultLimit; f++) {
    const a = 3 * faces[3 * f];
    const b = 3 * faces[3 * f + 1];
    const c = 3 * faces[3 * f + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const wx = vx - ux;
    const wy = vy - uy;
    const wz = vz - uz;
    const longest = Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz, wx * wx + wy * wy + wz * wz);
    // Twice the area is longest edge × height; written so that NaN positions are caught too.
    if (!(Math.sqrt(nx * nx + ny * ny + nz * nz) > sliverShare * longest)) bad.push(f);
  }
  if (bad.length > 0)
    throw new Failure(
      'flatten/no-area',
      `${bad.length === faultLimit ? `At least ${faultLimit}` : bad.length} face${bad.length > 1 ? 's have' : ' has'} no area.`,
      { stage: 'flatten', faces: bad },
      'Let the Body station drop degenerate faces.',
    );
}
