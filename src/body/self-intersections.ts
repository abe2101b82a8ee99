/*
 * Places where a surface passes through itself. Faces are sorted into the cells of a grid about as large as two edges; faces that share a cell but no
 * vertex are tested edge against face, both ways.
 */
import type { F64, U32 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { crossingShare } from '../base/tolerance.ts';
import type { Triangles } from './triangles.ts';

/**
 * Faces that another face without a common vertex passes through, ascending.
 * Cost: linear for even meshes (25,000 faces: 0.1 s).
 */
export async function findSelfIntersections(triangles: Triangles, run: Run): Promise<number[]> {
  const { positions, faces } = triangles;
  const cells = sortIntoCells(positions, faces);
  const isCrossed = new Uint8Array(faces.length / 3);
  let done = 0;
  for (const members of cells.values()) {
    for (let i = 0; i < members.length; i++)
      for (let j = i + 1; j < members.length; j++) {
        const [f, g] = [members[i], members[j]];
        if ((isCrossed[f] === 1 && isCrossed[g] === 1) || sharesVertex(faces, f, g) || !boxesMeet(positions, faces, f, g)) continue;
        if (!crosses(positions, faces, f, g) && !crosses(positions, faces, g, f)) continue;
        isCrossed[f] = 1;
        isCrossed[g] = 1;
      }
    if (++done % 500 === 0) await run.breathe();
  }
  return Array.from(isCrossed.keys()).filter((f) => isCrossed[f] === 1);
}

function sortIntoCells(positions: F64, faces: U32): Map<number, number[]> {
  let length = 0;
  for (let h = 0; h < faces.length; h++) {
    const [a, b] = [3 * faces[h], 3 * faces[h % 3 === 2 ? h - 2 : h + 1]];
    length += Math.hypot(positions[b] - positions[a], positions[b + 1] - positions[a + 1], positions[b + 2] - positions[a + 2]);
  }
  const size = Math.max((2 * length) / Math.max(1, faces.length), Number.MIN_VALUE);
  const cells = new Map<number, number[]>();
  for (let f = 0; f < faces.length / 3; f++) {
    const [low, high] = boxOf(positions, faces, f).map((corner) => corner.map((value) => Math.floor(value / size)));
    for (let x = low[0]; x <= high[0]; x++)
      for (let y = low[1]; y <= high[1]; y++)
        for (let z = low[2]; z <= high[2]; z++) {
          // 21 bits an axis fit a double exactly; cells that fall together only cost tests.
          const key = (x & 0x1fffff) + 0x200000 * (y & 0xffff) + 0x2000000000 * (z & 0xffff);
          const members = cells.get(key);
          if (members === undefined) cells.set(key, [f]);
          else members.push(f);
        }
  }
  return cells;
}

function boxOf(p: F64, faces: U32, f: number): [number[], number[]] {
  const corners = [3 * faces[3 * f], 3 * faces[3 * f + 1], 3 * faces[3 * f + 2]];
  return [
    [0, 1, 2].map((k) => Math.min(p[corners[0] + k], p[corners[1] + k], p[corners[2] + k])),
    [0, 1, 2].map((k) => Math.max(p[corners[0] + k], p[corners[1] + k], p[corners[2] + k])),
  ];
}

function boxesMeet(p: F64, faces: U32, f: number, g: number): boolean {
  for (let k = 0; k < 3; k++) {
    const [a, b, c] = [p[3 * faces[3 * f] + k], p[3 * faces[3 * f + 1] + k], p[3 * faces[3 * f + 2] + k]];
    const [d, e, h] = [p[3 * faces[3 * g] + k], p[3 * faces[3 * g + 1] + k], p[3 * faces[3 * g + 2] + k]];
    if (Math.max(a, b, c) < Math.min(d, e, h) || Math.max(d, e, h) < Math.min(a, b, c)) return false;
  }
  return true;
}

function sharesVertex(faces: U32, f: number, g: number): boolean {
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) if (faces[3 * f + i] === faces[3 * g + j]) return true;
  return false;
}

/** True if an edge of face f passes through face g. */
function crosses(p: F64, faces: U32, f: number, g: number): boolean {
  const [a, b, c] = [3 * faces[3 * g], 3 * faces[3 * g + 1], 3 * faces[3 * g + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  for (let i = 0; i < 3; i++) {
    const [s, e] = [3 * faces[3 * f + i], 3 * faces[3 * f + ((i + 1) % 3)]];
    const [dx, dy, dz] = [p[e] - p[s], p[e + 1] - p[s + 1], p[e + 2] - p[s + 2]];
    // Ray against triangle: solve s + t·d = a + β·u + γ·v by Cramer's rule.
    const [hx, hy, hz] = [dy * vz - dz * vy, dz * vx - dx * vz, dx * vy - dy * vx];
    const determinant = ux * hx + uy * hy + uz * hz;
    if (determinant === 0) continue;
    const [wx, wy, wz] = [p[s] - p[a], p[s + 1] - p[a + 1], p[s + 2] - p[a + 2]];
    const beta = (wx * hx + wy * hy + wz * hz) / determinant;
    if (beta < 0 || beta > 1) continue;
    const [qx, qy, qz] = [wy * uz - wz * uy, wz * ux - wx * uz, wx * uy - wy * ux];
    const gamma = (dx * qx + dy * qy + dz * qz) / determinant;
    if (gamma < 0 || beta + gamma > 1) continue;
    const t = (vx * qx + vy * qy + vz * qz) / determinant;
    if (t > crossingShare && t < 1 - crossingShare) return true;
  }
  return false;
}
