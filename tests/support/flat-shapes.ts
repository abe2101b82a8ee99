/*
 * Surfaces from formulas with known flattenings: ruled strips (exactly developable polyhedra), lifted plane regions (caps, saddles, limbs),
 * wedges of a cap (gores), a cap with a slit (dart), rings. Lengths in mm unless a test says otherwise.
 */
import Delaunator from 'delaunator';
import { createRandom } from '../../src/base/random.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../../src/mesh/half-edge-mesh.ts';
import { boundaryLoops } from '../../src/mesh/navigate.ts';
import type { Patch, Seam, Side } from '../../src/patches/patch.ts';

type Point = readonly [number, number, number];

/**
 * A surface of straight generators from `bottom[i]` to `top[i]`, each cut into `rows`; diagonals by a seed. Exactly developable where
 * neighbouring generators are parallel or meet. A generator without length is one vertex; where all generators end in one point that is
 * one vertex. Generators that coincide stay apart: a closed ring whose last generator repeats the first is slit there.
 */
export function ruledStrips(bottom: readonly Point[], top: readonly Point[], rows: number, seed = 1): HalfEdgeMesh {
  const random = createRandom(seed);
  const isSame = (a: Point, b: Point): boolean => a.every((x, k) => x === b[k]);
  const [isBottomApex, isTopApex] = [bottom, top].map((points) => points.every((point) => isSame(point, points[0])));
  const positions: number[] = [];
  const known = new Map<string, number>();
  const at = (i: number, r: number): number => {
    const isPoint = isSame(bottom[i], top[i]);
    const key = r === 0 && isBottomApex ? 'bottom' : r === rows && isTopApex ? 'top' : `${i} ${isPoint ? 0 : r}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    known.set(key, positions.length / 3);
    for (let k = 0; k < 3; k++) positions.push(r === rows ? top[i][k] : bottom[i][k] + ((top[i][k] - bottom[i][k]) * r) / rows);
    return positions.length / 3 - 1;
  };
  const faces: number[] = [];
  for (let i = 0; i + 1 < bottom.length; i++)
    for (let r = 0; r < rows; r++) {
      const [a, b, c, d] = [at(i, r), at(i + 1, r), at(i + 1, r + 1), at(i, r + 1)];
      const isRising = random() < 0.5;
      for (const face of isRising
        ? [
            [a, b, c],
            [a, c, d],
          ]
        : [
            [a, b, d],
            [b, c, d],
          ])
        if (new Set(face).size === 3) faces.push(...face);
    }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

export const range = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

/** An open tube: the arc `angle` of a cylinder about z. */
export function cylinderMesh(radius: number, height: number, angle: number, segments: number, rows: number, seed = 1): HalfEdgeMesh {
  const ring = (z: number): Point[] =>
    range(segments + 1).map((i) => [radius * Math.cos((angle * i) / segments), radius * Math.sin((angle * i) / segments), z]);
  return ruledStrips(ring(0), ring(height), rows, seed);
}

/** A cone or frustum slit along a generator: from radius `bottom` at z = 0 to `top` at z = height. */
export function coneMesh(bottom: number, top: number, height: number, segments: number, rows: number, seed = 1): HalfEdgeMesh {
  const ring = (radius: number, z: number): Point[] =>
    range(segments + 1).map((i) => {
      const angle = ((2 * Math.PI) / segments) * (i % segments);
      return radius === 0 ? [0, 0, z] : [radius * Math.cos(angle), radius * Math.sin(angle), z];
    });
  return ruledStrips(ring(bottom, 0), ring(top, height), rows, seed);
}

/** A plane triangulation: positions x0 y0 …, faces counter-clockwise; the border points come first, in order. */
export interface PlaneMesh {
  readonly points: Float64Array;
  readonly faces: Uint32Array;
  readonly borderCount: number;
}

/** Delaunay triangulation of points x0 y0 …, faces counter-clockwise. */
export function triangulatePoints(points: readonly number[]): PlaneMesh {
  const faces = Uint32Array.from(new Delaunator(Float64Array.from(points)).triangles);
  for (let h = 0; h < faces.length; h += 3) {
    const [a, b, c] = [2 * faces[h], 2 * faces[h + 1], 2 * faces[h + 2]];
    const twice = (points[b] - points[a]) * (points[c + 1] - points[a + 1]) - (points[b + 1] - points[a + 1]) * (points[c] - points[a]);
    if (twice < 0) [faces[h + 1], faces[h + 2]] = [faces[h + 2], faces[h + 1]];
  }
  return { points: Float64Array.from(points), faces, borderCount: 0 };
}

/**
 * Irregular Delaunay triangulation of a region.
 * @param border closed polygon, counter-clockwise, about evenly spaced
 * @param contains whether a point lies inside
 * @param spacing mean distance of inner points; may vary by place
 */
export function triangulateRegion(
  border: readonly (readonly [number, number])[],
  contains: (x: number, y: number) => boolean,
  spacing: number,
  seed = 1,
): PlaneMesh {
  const random = createRandom(seed);
  const points: number[] = border.flatMap(([x, y]) => [x, y]);
  const xs = border.map(([x]) => x);
  const ys = border.map(([, y]) => y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  // Far enough for border edges to be Delaunay.
  const keep = 0.75 * spacing;
  const cells = new Map<string, (readonly [number, number])[]>();
  const cellKey = (x: number, y: number): string => `${Math.floor(x / spacing)} ${Math.floor(y / spacing)}`;
  for (const point of border) cells.set(cellKey(...point), [...(cells.get(cellKey(...point)) ?? []), point]);
  const isNearBorder = (x: number, y: number): boolean => {
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++)
        for (const [bx, by] of cells.get(cellKey(x + i * spacing, y + j * spacing)) ?? [])
          if (Math.hypot(bx - x, by - y) < keep) return true;
    return false;
  };
  for (let y = minY; y <= maxY; y += spacing)
    for (let x = minX; x <= maxX; x += spacing) {
      const px = x + 0.7 * (random() - 0.5) * spacing;
      const py = y + 0.7 * (random() - 0.5) * spacing;
      if (contains(px, py) && !isNearBorder(px, py)) points.push(px, py);
    }
  const all = triangulatePoints(points).faces;
  const faces: number[] = [];
  for (let h = 0; h < all.length; h += 3) {
    const [a, b, c] = [2 * all[h], 2 * all[h + 1], 2 * all[h + 2]];
    const isInside = contains((points[a] + points[b] + points[c]) / 3, (points[a + 1] + points[b + 1] + points[c + 1]) / 3);
    // Three points of a straight border are no face, whatever side rounding puts the middle one on.
    const twice = (points[b] - points[a]) * (points[c + 1] - points[a + 1]) - (points[b + 1] - points[a + 1]) * (points[c] - points[a]);
    if (isInside && twice > 1e-9 * spacing * spacing) faces.push(all[h], all[h + 1], all[h + 2]);
  }
  return { points: Float64Array.from(points), faces: Uint32Array.from(faces), borderCount: border.length };
}

/** Irregular triangulation of a disc of radius 1 with about `vertexCount` vertices. */
export function planeDisc(vertexCount: number, seed = 1): PlaneMesh {
  const spacing = Math.sqrt(Math.PI / vertexCount);
  const rim = Math.round((2 * Math.PI) / spacing);
  const border = range(rim).map((i) => [Math.cos((2 * Math.PI * i) / rim), Math.sin((2 * Math.PI * i) / rim)] as const);
  return triangulateRegion(border, (x, y) => Math.hypot(x, y) < 1, spacing, seed);
}

/** A plane mesh lifted into space. */
export function lift(plane: PlaneMesh, place: (x: number, y: number) => Point): HalfEdgeMesh {
  const positions = new Float64Array((plane.points.length / 2) * 3);
  for (let v = 0; v < plane.points.length / 2; v++) positions.set(place(plane.points[2 * v], plane.points[2 * v + 1]), 3 * v);
  return buildMesh(positions, plane.faces);
}

/** The point of a sphere at distance θ from its top along the surface, azimuthal equidistant from the plane. */
export const onSphere =
  (radius: number, halfAngle: number) =>
  (x: number, y: number): Point => {
    const rho = Math.hypot(x, y);
    const theta = rho * halfAngle;
    const scale = rho === 0 ? 0 : (radius * Math.sin(theta)) / rho;
    return [scale * x, scale * y, radius * Math.cos(theta)];
  };

/** Spherical cap of half-angle α, irregular mesh. */
export const capMesh = (radius: number, halfAngle: number, vertexCount: number, seed = 1): HalfEdgeMesh =>
  lift(planeDisc(vertexCount, seed), onSphere(radius, halfAngle));

/** Saddle z = (x² − y²)/(2R) over a disc of radius r. */
export const saddleMesh = (radius: number, bend: number, vertexCount: number, seed = 1): HalfEdgeMesh =>
  lift(planeDisc(vertexCount, seed), (x, y) => [radius * x, radius * y, ((x * x - y * y) * radius * radius) / (2 * bend)]);

/** Hemisphere of radius 1 on an open cylinder of length L, uncut: rings of equal vertex count, fanned at the pole. */
export function limbMesh(length: number, segments: number): HalfEdgeMesh {
  const step = (2 * Math.PI) / segments;
  const profile: (readonly [number, number])[] = [];
  const capRings = Math.max(4, Math.round(Math.PI / 2 / step));
  for (let i = 1; i <= capRings; i++) profile.push([Math.sin(((Math.PI / 2) * i) / capRings), Math.cos(((Math.PI / 2) * i) / capRings)]);
  const tubeRings = Math.max(1, Math.round(length / step));
  for (let i = 1; i <= tubeRings; i++) profile.push([1, (-length * i) / tubeRings]);
  const positions: number[] = [0, 0, 1];
  profile.forEach(([r, z], ring) => {
    for (let i = 0; i < segments; i++) positions.push(r * Math.cos(step * (i + ring / 2)), r * Math.sin(step * (i + ring / 2)), z);
  });
  const at = (ring: number, i: number): number => 1 + ring * segments + (i % segments);
  const faces: number[] = [];
  for (let i = 0; i < segments; i++) faces.push(0, at(0, i), at(0, i + 1));
  for (let ring = 0; ring + 1 < profile.length; ring++)
    for (let i = 0; i < segments; i++) {
      faces.push(at(ring, i), at(ring + 1, i), at(ring, i + 1));
      faces.push(at(ring, i + 1), at(ring + 1, i), at(ring + 1, i + 1));
    }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

/** A patch around a mesh, its border cut into sides at the given corner vertices (in border order), one kind and seam each. */
export function patchOf(
  id: string,
  mesh: HalfEdgeMesh,
  corners: readonly number[] = [],
  describe: (i: number) => { readonly kind: Side['kind']; readonly seam?: string; readonly line?: string } = () => ({ kind: 'border' }),
): Patch {
  const sides: Side[] = [];
  const loops: number[][] = [];
  boundaryLoops(mesh).forEach((loop, loopIndex) => {
    const start =
      loopIndex === 0
        ? Math.max(
            0,
            loop.findIndex((h) => mesh.faces[h] === corners[0]),
          )
        : 0;
    const turned = [...loop.slice(start), ...loop.slice(0, start)];
    const own: number[] = [];
    let run: number[] = [];
    turned.forEach((h, i) => {
      run.push(h);
      const end = mesh.faces[nextHalfEdge(h)];
      if (i + 1 < turned.length && !(loopIndex === 0 && corners.includes(end))) return;
      own.push(sides.length);
      sides.push({ halfEdges: Uint32Array.from(run), ...(loopIndex === 0 ? describe(sides.length) : { kind: 'border' as const }) });
      run = [];
    });
    loops.push(own);
  });
  const faceTotal = mesh.faces.length / 3;
  const vertexTotal = mesh.positions.length / 3;
  return {
    id,
    area: id,
    name: id,
    side: 'C',
    layer: 0,
    material: 'eva-6',
    forming: 'domed',
    mesh,
    toSurface: { face: new Uint32Array(vertexTotal), weights: new Float64Array(3 * vertexTotal) },
    faceToSurfaceFace: new Uint32Array(faceTotal),
    loops,
    sides,
    marks: [],
    points: [],
    hash: id,
  };
}

/**
 * A cap cut into n ≥ 3 gores from pole to rim, with the seams between them. Patch i is the wedge of azimuth 2πi/n … 2π(i+1)/n; its side 0
 * runs out from the pole, side 1 along the rim, side 2 back.
 */
export function goreSet(
  radius: number,
  halfAngle: number,
  n: number,
  spacing: number,
): { readonly patches: Patch[]; readonly seams: Seam[] } {
  const patches = range(n).map((i) => {
    const from = (2 * Math.PI * i) / n;
    const to = (2 * Math.PI * (i + 1)) / n;
    const ray = Math.round(1 / spacing);
    const arc = Math.max(1, Math.round((to - from) / spacing));
    const border = [
      ...range(ray).map((k) => [(k / ray) * Math.cos(from), (k / ray) * Math.sin(from)] as const),
      ...range(arc).map((k) => [Math.cos(from + ((to - from) * k) / arc), Math.sin(from + ((to - from) * k) / arc)] as const),
      ...range(ray).map((k) => [(1 - k / ray) * Math.cos(to), (1 - k / ray) * Math.sin(to)] as const),
    ];
    const contains = (x: number, y: number): boolean => {
      const azimuth = ((Math.atan2(y, x) + 4 * Math.PI - (from + to) / 2 + Math.PI) % (2 * Math.PI)) - Math.PI;
      return Math.hypot(x, y) < 1 && Math.abs(azimuth) < (to - from) / 2;
    };
    const mesh = lift(triangulateRegion(border, contains, spacing, i + 1), onSphere(radius, halfAngle));
    return patchOf(`gore.${i}.C`, mesh, [0, ray, ray + arc], (side) =>
      side === 1 ? { kind: 'border' } : { kind: 'seam', seam: `S${side === 0 ? i + 1 : ((i + 1) % n) + 1}`, line: `ray-${side}` },
    );
  });
  const seams = range(n).map((i): Seam => ({
    id: `S${i + 1}`,
    kind: 'seam',
    line: `ray-${i}`,
    sides: [
      { patch: patches[i].id, side: 0 },
      { patch: patches[(i + n - 1) % n].id, side: 2 },
    ],
    surfaceMm: radius * halfAngle,
  }));
  return { patches, seams };
}

/** A surface over the disc of radius 1 slit along the positive x axis from the rim to `tipAt`; sides: rim, leg in, leg out. */
export function slitDiscPatch(
  place: (x: number, y: number) => Point,
  tipAt: number,
  spacing: number,
  seed = 1,
): { readonly patch: Patch; readonly seam: Seam; readonly tip: number } {
  const rim = Math.round((2 * Math.PI) / spacing);
  const legCount = Math.max(1, Math.round((1 - tipAt) / spacing));
  const leg = range(legCount).map((k) => [tipAt + ((1 - tipAt) * k) / legCount, 0] as const);
  const border = [...range(rim).map((i) => [Math.cos((2 * Math.PI * i) / rim), Math.sin((2 * Math.PI * i) / rim)] as const), ...leg];
  const disc = triangulateRegion(border, (x, y) => Math.hypot(x, y) < 1, spacing, seed);
  // Vertices of the leg but the tip are doubled: faces below the x axis take the copies.
  const legVertices = [
    0,
    ...range(legCount)
      .slice(1)
      .map((k) => rim + k),
  ];
  const total = disc.points.length / 2;
  const copy = new Map(legVertices.map((v, i) => [v, total + i]));
  const points = [...disc.points, ...legVertices.flatMap((v) => [disc.points[2 * v], disc.points[2 * v + 1]])];
  const faces = Array.from(disc.faces);
  for (let h = 0; h < faces.length; h += 3) {
    const centre = (disc.points[2 * faces[h] + 1] + disc.points[2 * faces[h + 1] + 1] + disc.points[2 * faces[h + 2] + 1]) / 3;
    if (centre < 0) for (let i = h; i < h + 3; i++) faces[i] = copy.get(faces[i]) ?? faces[i];
  }
  const mesh = lift({ points: Float64Array.from(points), faces: Uint32Array.from(faces), borderCount: rim }, place);
  const tip = rim;
  const patch = patchOf('slit.1.C', mesh, [0, total, tip], (i) =>
    i === 0 ? { kind: 'border' } : { kind: 'dart', seam: 'S1', line: 'slit' },
  );
  const seam: Seam = {
    id: 'S1',
    kind: 'dart',
    line: 'slit',
    sides: [
      { patch: patch.id, side: 1 },
      { patch: patch.id, side: 2 },
    ],
    surfaceMm: 0,
  };
  return { patch, seam, tip };
}
