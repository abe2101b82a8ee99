/*
 * Where a surface cuts itself: pairs of faces without a common vertex of which an edge of one goes through the other. Faces are sorted into
 * cubes of two mean edges; only faces that share a cube are compared.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { bounds } from '../mesh/measure.ts';

interface Triangles {
  readonly positions: F64;
  readonly faces: U32;
}

/**
 * Faces that take part in a crossing, ascending.
 * @param atMost stop after this many faces
 * Cost: linear for meshes with even faces.
 */
export function selfHits(mesh: Triangles, atMost: number): number[] {
  const cubes = sortIntoCubes(mesh);
  const hit = new Set<number>();
  for (let c = 0; c + 1 < cubes.start.length; c++) {
    for (let i = cubes.start[c]; i < cubes.start[c + 1]; i++)
      for (let j = i + 1; j < cubes.start[c + 1]; j++) {
        const [f, g] = [cubes.faces[i], cubes.faces[j]];
        if (f === g || shareVertex(mesh.faces, f, g) || !crosses(mesh, f, g)) continue;
        hit.add(f);
        hit.add(g);
        if (hit.size >= atMost) return [...hit].sort((a, b) => a - b);
      }
  }
  return [...hit].sort((a, b) => a - b);
}

/** Faces by cube, in compressed rows: every face in every cube that its box touches. */
function sortIntoCubes(mesh: Triangles): { readonly start: Uint32Array; readonly faces: Uint32Array } {
  const { positions: p, faces } = mesh;
  const total = faces.length / 3;
  let mean = 0;
  for (let h = 0; h < faces.length; h++) {
    const [a, b] = [3 * faces[h], 3 * faces[h % 3 === 2 ? h - 2 : h + 1]];
    mean += Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]) / faces.length;
  }
  const { min, max } = bounds(mesh);
  // At most 2²² cubes; beyond that they grow.
  let width = 2 * mean;
  const count = (k: number): number => Math.floor((max[k] - min[k]) / width) + 1;
  while (count(0) * count(1) * count(2) > 4194304) width *= 1.5;
  const [nx, ny, nz] = [count(0), count(1), count(2)];
  const start = new Uint32Array(nx * ny * nz + 1);
  const eachCube = (f: number, visit: (cube: number) => void): void => {
    const range = [0, 1, 2].map((k) => {
      const x = [0, 1, 2].map((i) => p[3 * faces[3 * f + i] + k] - min[k]);
      return [Math.floor(Math.min(...x) / width), Math.floor(Math.max(...x) / width)];
    });
    for (let i = range[0][0]; i <= range[0][1]; i++)
      for (let j = range[1][0]; j <= range[1][1]; j++) for (let k = range[2][0]; k <= range[2][1]; k++) visit((i * ny + j) * nz + k);
  };
  for (let f = 0; f < total; f++) eachCube(f, (cube) => start[cube + 1]++);
  for (let c = 0; c + 1 < start.length; c++) start[c + 1] += start[c];
  const fill = start.slice();
  const sorted = new Uint32Array(start[start.length - 1]);
  for (let f = 0; f < total; f++)
    eachCube(f, (cube) => {
      sorted[fill[cube]++] = f;
    });
  return { start, faces: sorted };
}

function shareVertex(faces: U32, f: number, g: number): boolean {
  for (let i = 3 * f; i < 3 * f + 3; i++) for (let j = 3 * g; j < 3 * g + 3; j++) if (faces[i] === faces[j]) return true;
  return false;
}

/** An edge of one triangle goes through the inside of the other. */
function crosses(mesh: Triangles, f: number, g: number): boolean {
  const p = mesh.positions;
  const corner = (face: number, i: number): number => 3 * mesh.faces[3 * face + (i % 3)];
  for (let k = 0; k < 3; k++) {
    let [fLow, fHigh, gLow, gHigh] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let i = 0; i < 3; i++) {
      fLow = Math.min(fLow, p[corner(f, i) + k]);
      fHigh = Math.max(fHigh, p[corner(f, i) + k]);
      gLow = Math.min(gLow, p[corner(g, i) + k]);
      gHigh = Math.max(gHigh, p[corner(g, i) + k]);
    }
    if (fHigh < gLow || gHigh < fLow) return false;
  }
  for (let i = 0; i < 3; i++) {
    if (piercing(p, corner(f, i), corner(f, i + 1), corner(g, 0), corner(g, 1), corner(g, 2))) return true;
    if (piercing(p, corner(g, i), corner(g, i + 1), corner(f, 0), corner(f, 1), corner(f, 2))) return true;
  }
  return false;
}

/**
 * Segment s–e goes through triangle a b c: its ends lie strictly on both sides, and the three tetrahedra over the edges turn the same way (one may be
 * flat: in mirror-symmetric bodies edge meets edge exactly).
 */
function piercing(p: F64, s: number, e: number, a: number, b: number, c: number): boolean {
  const before = volume(p, a, b, c, s);
  const after = volume(p, a, b, c, e);
  if (before * after >= 0) return false;
  const [u, v, w] = [volume(p, s, e, a, b), volume(p, s, e, b, c), volume(p, s, e, c, a)];
  return (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0);
}

/** Six times the signed volume of the tetrahedron a b c d. */
function volume(p: F64, a: number, b: number, c: number, d: number): number {
  const [ax, ay, az] = [p[a] - p[d], p[a + 1] - p[d + 1], p[a + 2] - p[d + 2]];
  const [bx, by, bz] = [p[b] - p[d], p[b + 1] - p[d + 1], p[b + 2] - p[d + 2]];
  const [cx, cy, cz] = [p[c] - p[d], p[c + 1] - p[d + 1], p[c + 2] - p[d + 2]];
  return ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
}
