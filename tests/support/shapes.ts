/*
 * Meshes from formulas for the body tests. Shapes are outward, in mm unless a test scales them.
 */
import { createRandom } from '../../src/base/random.ts';
import type { TriangleSoup } from '../../src/read/triangle-soup.ts';

export interface Shape {
  readonly positions: Float64Array;
  readonly faces: Uint32Array;
}

export const soupOf = (shape: Shape, unit: TriangleSoup['unit'] = 'unknown'): TriangleSoup => ({
  ...shape,
  unit,
  format: 'obj',
  findings: [],
});

/** A surface over rings of points, ring by ring from below; each ring has `around` points, counter-clockwise seen from above. */
export function ringSurface(rings: readonly (readonly (readonly [number, number, number])[])[], caps: boolean): Shape {
  const around = rings[0].length;
  const positions = rings.flatMap((ring) => ring.flatMap((point) => [...point]));
  const faces: number[] = [];
  for (let r = 0; r + 1 < rings.length; r++)
    for (let i = 0; i < around; i++) {
      const [a, b] = [r * around + i, r * around + ((i + 1) % around)];
      // Diagonals alternate, so that no direction is preferred.
      if ((r + i) % 2 === 0) faces.push(a, b, b + around, a, b + around, a + around);
      else faces.push(a, b, a + around, b, b + around, a + around);
    }
  if (caps) {
    for (const r of [0, rings.length - 1]) {
      const centre = positions.length / 3;
      for (let k = 0; k < 3; k++) positions.push(rings[r].reduce((sum, point) => sum + point[k], 0) / around);
      for (let i = 0; i < around; i++) {
        const [a, b] = [r * around + i, r * around + ((i + 1) % around)];
        if (r === 0) faces.push(centre, b, a);
        else faces.push(centre, a, b);
      }
    }
  }
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}

/** A cylinder about the y axis from y = 0, vertices on the circle. */
export function cylinder(radius: number, height: number, around: number, rings: number, caps: boolean): Shape {
  return ringSurface(
    Array.from({ length: rings + 1 }, (_, r) =>
      Array.from({ length: around }, (_, i) => {
        const angle = (2 * Math.PI * i) / around;
        return [radius * Math.cos(angle), (height * r) / rings, -radius * Math.sin(angle)] as const;
      }),
    ),
    caps,
  );
}

/** A sphere of many faces: an icosahedron split `splits` times, vertices on the sphere. */
export function sphere(radius: number, splits: number, centre: readonly [number, number, number] = [0, 0, 0]): Shape {
  const golden = (1 + Math.sqrt(5)) / 2;
  let points: number[][] = [];
  for (const s of [-1, 1])
    for (const t of [-golden, golden]) {
      points.push([0, s, t], [s, t, 0], [t, 0, s]);
    }
  points = points.map((p) => p.map((x) => (x / Math.hypot(...p)) * radius));
  let faces: number[][] = [];
  const side = Math.min(...points.slice(1).map((p) => Math.hypot(...p.map((x, k) => x - points[0][k]))));
  const near = (i: number, j: number): boolean => Math.abs(Math.hypot(...points[i].map((x, k) => x - points[j][k])) - side) < 1e-6 * radius;
  for (let i = 0; i < 12; i++)
    for (let j = i + 1; j < 12; j++)
      for (let k = j + 1; k < 12; k++) {
        if (!near(i, j) || !near(j, k) || !near(i, k)) continue;
        const [a, b, c] = [points[i], points[j], points[k]];
        const out = a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
        faces.push(out > 0 ? [i, j, k] : [i, k, j]);
      }
  for (let s = 0; s < splits; s++) {
    const middle = new Map<string, number>();
    const between = (i: number, j: number): number => {
      const key = `${Math.min(i, j)}-${Math.max(i, j)}`;
      const known = middle.get(key);
      if (known !== undefined) return known;
      const sum = points[i].map((x, k) => x + points[j][k]);
      points.push(sum.map((x) => (x / Math.hypot(...sum)) * radius));
      middle.set(key, points.length - 1);
      return points.length - 1;
    };
    faces = faces.flatMap(([a, b, c]) => {
      const [ab, bc, ca] = [between(a, b), between(b, c), between(c, a)];
      return [
        [a, ab, ca],
        [ab, b, bc],
        [ca, bc, c],
        [ab, bc, ca],
      ];
    });
  }
  return {
    positions: Float64Array.from(points.flatMap((p) => p.map((x, k) => x + centre[k]))),
    faces: Uint32Array.from(faces.flat()),
  };
}

/** An axis-parallel box of twelve faces between two corners. */
export function box(low: readonly [number, number, number], high: readonly [number, number, number]): Shape {
  const corner = (i: number): number[] => [0, 1, 2].map((k) => ((i >> k) & 1 ? high[k] : low[k]));
  const quads = [
    [0, 4, 6, 2],
    [1, 3, 7, 5],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 2, 3, 1],
    [4, 5, 7, 6],
  ];
  return {
    positions: Float64Array.from(Array.from({ length: 8 }, (_, i) => corner(i)).flat()),
    faces: Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
  };
}

/** A flat grid in the plane z = 0, facing +z. */
export function grid(width: number, height: number, columns: number, rows: number): Shape {
  const positions: number[] = [];
  const faces: number[] = [];
  for (let r = 0; r <= rows; r++)
    for (let c = 0; c <= columns; c++) {
      positions.push((width * c) / columns, (height * r) / rows, 0);
      if (r === rows || c === columns) continue;
      const [a, b] = [r * (columns + 1) + c, (r + 1) * (columns + 1) + c];
      faces.push(a, a + 1, b + 1, a, b + 1, b);
    }
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}

/** Several shapes in one soup; vertices are not shared. */
export function together(...shapes: readonly Shape[]): Shape {
  const faces: number[] = [];
  let first = 0;
  for (const shape of shapes) {
    for (const v of shape.faces) faces.push(v + first);
    first += shape.positions.length / 3;
  }
  return { positions: Float64Array.from(shapes.flatMap((shape) => [...shape.positions])), faces: Uint32Array.from(faces) };
}

/** The same surface with positions mapped. */
export function moved(shape: Shape, map: (x: number, y: number, z: number) => readonly [number, number, number]): Shape {
  const positions = new Float64Array(shape.positions.length);
  for (let v = 0; v < positions.length; v += 3) positions.set(map(shape.positions[v], shape.positions[v + 1], shape.positions[v + 2]), v);
  return { ...shape, positions };
}

/** Every face turned round. */
export function turnedOver(shape: Shape): Shape {
  return { ...shape, faces: shape.faces.map((_, h) => shape.faces[h % 3 === 0 ? h : h % 3 === 1 ? h + 1 : h - 1]) };
}

/** Every triangle with vertices of its own, as STL has them. */
export function loosened(shape: Shape): Shape {
  const positions = new Float64Array(3 * shape.faces.length);
  shape.faces.forEach((v, h) => {
    for (let k = 0; k < 3; k++) positions[3 * h + k] = shape.positions[3 * v + k];
  });
  return { positions, faces: Uint32Array.from({ length: shape.faces.length }, (_, h) => h) };
}

/** Faces in another order, with the corners turned on and a share of the faces turned round. */
export function shuffled(shape: Shape, seed: number, turnedShare = 0): Shape {
  const random = createRandom(seed);
  const order = Array.from({ length: shape.faces.length / 3 }, (_, f) => f);
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  const faces = order.flatMap((f) => {
    const first = Math.floor(random() * 3);
    const corners = [0, 1, 2].map((i) => shape.faces[3 * f + ((first + i) % 3)]);
    return random() < turnedShare ? corners.reverse() : corners;
  });
  return { positions: shape.positions, faces: Uint32Array.from(faces) };
}
