/*
 * Closed bodies from formulas: sphere, capsule, and several bodies in one mesh. The sphere is an octahedron whose faces are cut into n² and
 * whose vertices are pushed onto the sphere, so that its equator is a ring of edges where a capsule's tube can begin.
 */
import type { SampleGrain, SampleMesh } from './bodies.ts';

/** Upper half of the unit octahedral sphere: rings from the pole (4·k vertices on ring k) down to the equator. */
function upperHalf(count: number): { readonly positions: number[]; readonly faces: number[]; readonly equator: number } {
  const positions: number[] = [0, 0, 1];
  const first = (ring: number): number => (ring === 0 ? 0 : 1 + 2 * ring * (ring - 1));
  const corners = [
    [1, 0],
    [0, 1],
    [-1, 0],
    [0, -1],
  ];
  for (let ring = 1; ring <= count; ring++)
    for (let quarter = 0; quarter < 4; quarter++)
      for (let i = 0; i < ring; i++) {
        const [a, b] = [corners[quarter], corners[(quarter + 1) % 4]];
        const x = (a[0] * (ring - i) + b[0] * i) / count;
        const y = (a[1] * (ring - i) + b[1] * i) / count;
        const z = (count - ring) / count;
        const size = Math.hypot(x, y, z);
        positions.push(x / size, y / size, z / size);
      }
  const vertex = (ring: number, i: number): number => first(ring) + (ring === 0 ? 0 : i % (4 * ring));
  const faces: number[] = [];
  for (let ring = 1; ring <= count; ring++)
    for (let quarter = 0; quarter < 4; quarter++)
      for (let i = 0; i < ring; i++) {
        const [outer, inner] = [quarter * ring + i, quarter * (ring - 1) + i];
        faces.push(vertex(ring - 1, inner), vertex(ring, outer), vertex(ring, outer + 1));
        if (i < ring - 1) faces.push(vertex(ring - 1, inner), vertex(ring, outer + 1), vertex(ring - 1, inner + 1));
      }
  return { positions, faces, equator: first(count) };
}

/** Closed capsule around z: two half spheres, their middles `length` apart, and the tube between them. Length 0 gives a sphere. */
export function capsule(size: { readonly radius: number; readonly length: number }, grain: SampleGrain): SampleMesh {
  const { radius, length } = size;
  const count = Math.max(2, Math.round((radius * Math.PI) / 2 / grain.edgeMm));
  const half = upperHalf(count);
  const ring = 4 * count;
  const rows = length === 0 ? 0 : Math.max(1, Math.round(length / grain.edgeMm));
  const positions: number[] = [];
  for (let v = 0; v < half.positions.length; v += 3)
    positions.push(radius * half.positions[v], radius * half.positions[v + 1], radius * half.positions[v + 2] + length / 2);
  const faces = [...half.faces];
  // Rings of the tube, downward; the last one is the lower half's equator.
  let upper = half.equator;
  for (let row = 1; row <= rows; row++) {
    const lower = positions.length / 3;
    for (let i = 0; i < ring; i++) {
      const v = 3 * (half.equator + i);
      positions.push(radius * half.positions[v], radius * half.positions[v + 1], length / 2 - (length * row) / rows);
    }
    for (let i = 0; i < ring; i++) {
      const next = (i + 1) % ring;
      faces.push(upper + i, lower + i, lower + next, upper + i, lower + next, upper + next);
    }
    upper = lower;
  }
  const lowerPole = positions.length / 3;
  for (let v = 0; v < half.equator; v++)
    positions.push(radius * half.positions[3 * v], radius * half.positions[3 * v + 1], -radius * half.positions[3 * v + 2] - length / 2);
  const image = (v: number): number => (v < half.equator ? lowerPole + v : upper + v - half.equator);
  for (let h = 0; h < half.faces.length; h += 3) faces.push(image(half.faces[h]), image(half.faces[h + 2]), image(half.faces[h + 1]));
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}

/** Closed sphere around the origin. */
export const sphere = (size: { readonly radius: number }, grain: SampleGrain): SampleMesh => capsule({ ...size, length: 0 }, grain);

/** Bodies side by side in one mesh, each moved by its own shift (mm). */
export function together(bodies: readonly { readonly body: SampleMesh; readonly shift: readonly [number, number, number] }[]): SampleMesh {
  const positions: number[] = [];
  const faces: number[] = [];
  for (const { body, shift } of bodies) {
    const first = positions.length / 3;
    for (let i = 0; i < body.positions.length; i++) positions.push(body.positions[i] + shift[i % 3]);
    for (const v of body.faces) faces.push(first + v);
  }
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}
