/*
 * The local frame of each face: the four numbers from which every map derivative on it follows.
 * In the frame of a face with corners a, b, c the corners lie at w_a = 0, w_b = l, w_c = d + ih. With U = z_b − z_a and V = z_c − z_a the map
 * z = αw + βw̄ + const has
 *   α = U·g + V·k,  β = U·ḡ + V·k̄,  g = 1/(2l) + i·d/(2lh),  k = −i/(2h).
 * σ₁ = |α| + |β|, σ₂ = |α| − |β|; |α|² − |β|² is the determinant.
 */
import type { F64 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';

/**
 * Frames of all faces, interleaved: Re g = 1/(2l), Im g = d/(2lh), −Im k = 1/(2h), area; shape 4·faceCount.
 * @param mesh surface positions, shape 3·n; no face without area (`checkFlattenable`)
 */
export function faceFrames(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const { positions: p, faces } = mesh;
  const frames = new Float64Array((faces.length / 3) * 4);
  for (let f = 0; f < faces.length / 3; f++) {
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
    const l = Math.sqrt(ux * ux + uy * uy + uz * uz);
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    // h = twice / l and d = u·v / l, so d / (2lh) = u·v / (2·l·twice).
    frames[4 * f] = 0.5 / l;
    frames[4 * f + 1] = (0.5 * (ux * vx + uy * vy + uz * vz)) / (l * twice);
    frames[4 * f + 2] = (0.5 * l) / twice;
    frames[4 * f + 3] = 0.5 * twice;
  }
  return frames;
}

/** Sum of the face areas in the frames. */
export function frameArea(frames: F64): number {
  let total = 0;
  for (let f = 3; f < frames.length; f += 4) total += frames[f];
  return total;
}
