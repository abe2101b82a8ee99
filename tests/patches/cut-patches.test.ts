/*
 * Cutting along marks: pieces that add up, sides that pair, and no crack, whatever the lines.
 */
import { describe, expect, it } from 'vitest';
import { torus } from '../../samples/bodies.ts';
import type { Vec3 } from '../../src/base/arrays.ts';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import type { LineMark } from '../../src/lines/line.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../../src/mesh/half-edge-mesh.ts';
import { faceAreas, surfaceArea } from '../../src/mesh/measure.ts';
import { boundaryLoops, eulerCharacteristic, halfEdgeLength } from '../../src/mesh/navigate.ts';
import { placeOf } from '../../src/mesh/spatial.ts';
import { submesh } from '../../src/mesh/submesh.ts';
import { createPatchCache, cutPatches } from '../../src/patches/cut-patches.ts';
import type { Marks } from '../../src/patches/marks.ts';
import type { CutResult, Patch, SeamSide } from '../../src/patches/patch.ts';
import { areaMark, bodyOf, lineMark, meshOf, noMarks, skinOf, sphereMesh } from '../support/marked-bodies.ts';
import { cylinder } from '../support/shapes.ts';

const radius = 100;
const ball = sphereMesh(radius, 8, 5);

/** The place of the sphere above (x, y), front (+z) side. */
const front = (x: number, y: number): Vec3 => [x, y, Math.sqrt(radius * radius - x * x - y * y)];

/** The front of the sphere as an open cap, painted all over: its border is the mesh's own, so that areas can be compared to the last digit. */
const cap = capOf(ball);
const all = areaMark({ strokes: [{ mode: 'paint', points: [front(1.3, 2.1)], radiusMm: 400 }] });

function capOf(mesh: HalfEdgeMesh): HalfEdgeMesh {
  const isFront = (f: number): boolean => [0, 1, 2].every((i) => mesh.positions[3 * mesh.faces[3 * f + i] + 2] > 45);
  return submesh(mesh, isFront).mesh;
}

const cutCap = (...lines: readonly LineMark[]): Promise<CutResult> => cutMesh(cap, { areas: [all], lines });

/** A disc of 60 mm painted at the front. */
const disc = areaMark({ strokes: [{ mode: 'paint', points: [front(1.3, 2.1)], radiusMm: 60 }] });

const cutMesh = (mesh: HalfEdgeMesh, marks: Partial<Marks>, cache = createPatchCache()): Promise<CutResult> =>
  cutPatches(bodyOf(mesh), [skinOf(mesh)], { ...noMarks, ...marks }, quietRun, cache);

const cutDisc = (...lines: readonly LineMark[]): Promise<CutResult> => cutMesh(ball, { areas: [disc], lines });

const upright = lineMark({ id: 'upright', points: [front(5, -75), front(7, 75)] });
const level = lineMark({ id: 'level', points: [front(-75, -4), front(75, 9)] });

const sum = (values: Iterable<number>): number => [...values].reduce((total, value) => total + value, 0);
const areaOf = (patches: readonly Patch[]): number => sum(patches.map((patch) => surfaceArea(patch.mesh)));

function patchOf(result: CutResult, id: string): Patch {
  const patch = result.patches.find((one) => one.id === id);
  if (!patch) throw new RangeError(`no patch ${id}`);
  return patch;
}

function edgesOf(result: CutResult, { patch, side }: SeamSide): { readonly lengths: number[]; readonly places: number[][] } {
  const { mesh, sides } = patchOf(result, patch);
  const { halfEdges } = sides[side];
  const place = (v: number): number[] => [0, 1, 2].map((k) => mesh.positions[3 * v + k]);
  const last = mesh.faces[nextHalfEdge(halfEdges[halfEdges.length - 1])];
  return {
    lengths: Array.from(halfEdges, (h) => halfEdgeLength(mesh, h)),
    places: [...Array.from(halfEdges, (h) => place(mesh.faces[h])), place(last)],
  };
}

/** Every seam's two sides run through the same places, the second backwards, and are as long as the seam says. */
function expectSeamsToFit(result: CutResult): void {
  for (const seam of result.seams) {
    const [a, b] = seam.sides.map((side) => edgesOf(result, side));
    expect(b.places.toReversed()).toEqual(a.places);
    expect(Math.abs(sum(a.lengths) - seam.surfaceMm)).toBeLessThan(1e-9 * seam.surfaceMm);
    expect(Math.abs(sum(b.lengths) - seam.surfaceMm)).toBeLessThan(1e-9 * seam.surfaceMm);
    for (const { patch, side } of seam.sides) expect(patchOf(result, patch).sides[side].seam).toBe(seam.id);
  }
}

/** A patch is a sound sheet: twins both ways over one edge, sides that cover each border once in order, faces with an area, none turned over. */
function expectSound(patch: Patch, surface: HalfEdgeMesh): void {
  const { mesh } = patch;
  let [unpaired, open] = [0, 0];
  for (let h = 0; h < mesh.faces.length; h++) {
    const g = mesh.twin[h];
    if (g === -1) open++;
    else if (mesh.twin[g] !== h || mesh.faces[g] !== mesh.faces[nextHalfEdge(h)] || mesh.faces[nextHalfEdge(g)] !== mesh.faces[h])
      unpaired++;
  }
  expect(unpaired).toBe(0);
  const inLoops = boundaryLoops(mesh);
  expect(sum(inLoops.map((loop) => loop.length))).toBe(open);
  expect(patch.loops).toHaveLength(inLoops.length);
  for (const loop of patch.loops) {
    const halfEdges = loop.flatMap((side) => [...patch.sides[side].halfEdges]);
    for (const [i, h] of halfEdges.entries()) {
      expect(mesh.twin[h]).toBe(-1);
      expect(mesh.faces[nextHalfEdge(h)]).toBe(mesh.faces[halfEdges[(i + 1) % halfEdges.length]]);
    }
  }
  const covered = patch.sides.flatMap((side) => [...side.halfEdges]);
  expect([new Set(covered).size, covered.length]).toEqual([open, open]);
  expect(Math.min(...faceAreas(mesh))).toBeGreaterThan(0);
  expect(turnedFaces(patch, surface)).toBe(0);
}

const cross = (p: ArrayLike<number>, [a, b, c]: readonly number[]): Vec3 => {
  const u = [0, 1, 2].map((k) => p[3 * b + k] - p[3 * a + k]);
  const v = [0, 1, 2].map((k) => p[3 * c + k] - p[3 * a + k]);
  return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
};

/** Faces that do not look the way of the surface face that they come from. */
function turnedFaces({ mesh, faceToSurfaceFace }: Patch, surface: HalfEdgeMesh): number {
  let turned = 0;
  for (const [f, from] of faceToSurfaceFace.entries()) {
    const own = cross(mesh.positions, [...mesh.faces.slice(3 * f, 3 * f + 3)]);
    const whole = cross(surface.positions, [...surface.faces.slice(3 * from, 3 * from + 3)]);
    if (sum(own.map((c, k) => c * whole[k])) <= 0) turned++;
  }
  return turned;
}

describe('cutPatches: areas', () => {
  it('cuts a disc out as one piece with one border, χ = 1, on the surface by its way back [invariant]', async () => {
    const { patches, seams, findings, areas } = await cutDisc();
    expect([patches.length, seams, findings]).toEqual([1, [], []]);
    const [patch] = patches;
    expect(eulerCharacteristic(patch.mesh)).toBe(1);
    expect(patch.sides.map((side) => side.kind)).toEqual(patch.sides.map(() => 'border'));
    expectSound(patch, ball);
    expect(areas).toEqual([{ id: 'a', areaMm2: expect.closeTo(surfaceArea(patch.mesh), 6) as number }]);
    const { face, weights } = patch.toSurface;
    let worst = 0;
    for (const [v, f] of face.entries()) {
      const at = placeOf(ball, { face: f, weights: [weights[3 * v], weights[3 * v + 1], weights[3 * v + 2]] });
      worst = Math.max(worst, ...at.map((c, k) => Math.abs(c - patch.mesh.positions[3 * v + k])));
    }
    expect(worst).toBeLessThan(1e-9);
  });

  it('gives a disc of 60 mm the area 2πR²(1 − cos(r/R)) of a cap, within what the faces lie below the sphere [closed form]', async () => {
    const wanted = 2 * Math.PI * radius * radius * (1 - Math.cos(60 / radius));
    const found = areaOf((await cutDisc()).patches);
    expect(Math.abs(found / wanted - 1)).toBeLessThan(0.01);
  });

  it('fills everything that lines close off: two halves of a sphere add up to its whole surface to 1e-9 [invariant]', async () => {
    const round = [0, 1, 2].map((i): Vec3 => [radius * Math.cos(2.1 * i), 3, radius * Math.sin(2.1 * i)]);
    const girth = lineMark({ id: 'girth', path: 'plane', closed: true, points: round });
    const fill = areaMark({
      strokes: [
        {
          mode: 'fill',
          points: [
            [0, radius, 0],
            [0, -radius, 0],
          ],
          radiusMm: 1,
        },
      ],
    });
    const result = await cutMesh(ball, { areas: [fill], lines: [girth] });
    expect(result.patches).toHaveLength(2);
    expect(Math.abs(areaOf(result.patches) / surfaceArea(ball) - 1)).toBeLessThan(1e-9);
    expectSeamsToFit(result);
  });

  it('loses nothing of a cap that is painted whole, uncut, in two and in four: areas add up to 1e-9 [invariant]', async () => {
    for (const [lines, count] of [
      [[], 1],
      [[upright], 2],
      [[upright, level], 4],
    ] as const) {
      const { patches } = await cutCap(...lines.map((line) => ({ ...line, points: line.points.map(([x, y]) => front(1.2 * x, 1.2 * y)) })));
      expect(patches).toHaveLength(count);
      expect(Math.abs(areaOf(patches) / surfaceArea(cap) - 1)).toBeLessThan(1e-9);
    }
  });

  it('lets a hole stand in a ring: a disc less a disc [closed form]', async () => {
    const ring = areaMark({ strokes: [...disc.strokes, { mode: 'erase', points: [front(1.3, 2.1)], radiusMm: 25 }] });
    const { patches, findings } = await cutMesh(ball, { areas: [ring] });
    expect(findings).toEqual([]);
    expect(patches.map((patch) => [patch.loops.length, eulerCharacteristic(patch.mesh)])).toEqual([[2, 0]]);
    const lengths = patches[0].loops.map((loop) =>
      sum(loop.flatMap((side) => Array.from(patches[0].sides[side].halfEdges, (h) => halfEdgeLength(patches[0].mesh, h)))),
    );
    // Circles of 60 and 25 mm on the sphere, outer one first.
    for (const [i, r] of [60, 25].entries())
      expect(Math.abs(lengths[i] / (2 * Math.PI * radius * Math.sin(r / radius)) - 1)).toBeLessThan(0.01);
  });
});

describe('cutPatches: lines', () => {
  it('cuts a disc in two by a seam; its two sides run against each other over the same places [invariant]', async () => {
    const result = await cutDisc(upright);
    expect(result.patches.map((patch) => eulerCharacteristic(patch.mesh))).toEqual([1, 1]);
    expect(result.seams.map(({ id, kind, line }) => ({ id, kind, line }))).toEqual([{ id: 'S1', kind: 'seam', line: 'upright' }]);
    expect(new Set(result.seams[0].sides.map((side) => side.patch)).size).toBe(2);
    expectSeamsToFit(result);
    for (const patch of result.patches) expectSound(patch, ball);
  });

  it('gives a seam the length of its great circle inside the area, within what the faces lie below the sphere [closed form]', async () => {
    // Through the disc's centre the seam is its diameter over the surface, 2 · 60 mm.
    const through = lineMark({ points: [front(1.3 - 2, 2.1 - 75), front(1.3, 2.1), front(1.3 + 2, 2.1 + 75)] });
    const { seams } = await cutDisc(through);
    expect(Math.abs(sum(seams.map((seam) => seam.surfaceMm)) - 120)).toBeLessThan(0.6);
  });

  it('leaves one piece at a dart; its two legs are as long as each other and meet in the tip [invariant]', async () => {
    const dart = lineMark({ id: 'dart', kind: 'dart', points: [front(4, 75), front(2, 10)] });
    const result = await cutDisc(dart);
    expect(result.patches.map((patch) => eulerCharacteristic(patch.mesh))).toEqual([1]);
    expect(result.seams.map(({ kind, line }) => ({ kind, line }))).toEqual([{ kind: 'dart', line: 'dart' }]);
    const [{ sides }] = result.seams;
    expect(sides[0].patch).toBe(sides[1].patch);
    expectSeamsToFit(result);
    expectSound(result.patches[0], ball);
    const tip = edgesOf(result, sides[0]).places;
    const distances = [tip[0], tip[tip.length - 1]].map((at) => Math.hypot(...at.map((c, k) => c - front(2, 10)[k])));
    // The clicked point lies on the sphere, its landing on a face below it.
    expect(Math.min(...distances)).toBeLessThan(0.2);
  });

  it('makes four pieces of two lines that cross, and four seams, two of each line [invariant]', async () => {
    const result = await cutDisc(upright, level);
    expect(result.patches).toHaveLength(4);
    expect(result.seams.map((seam) => seam.line).sort()).toEqual(['level', 'level', 'upright', 'upright']);
    expectSeamsToFit(result);
    for (const patch of result.patches) expectSound(patch, ball);
  });

  it('joins a line that ends within 4 mm before another to it in a T: three pieces [contract]', async () => {
    for (const short of [0, 3]) {
      const stem = lineMark({ id: 'stem', points: [front(75, 3), front(6 + short, 3)] });
      const result = await cutDisc(upright, stem);
      expect(result.patches).toHaveLength(3);
      expect(result.seams.map((seam) => seam.line).sort()).toEqual(['stem', 'upright', 'upright']);
      expectSeamsToFit(result);
    }
  });

  it('orders seams by falling length [contract]', async () => {
    const { seams } = await cutDisc(upright, level);
    const lengths = seams.map((seam) => seam.surfaceMm);
    expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
    expect(seams.map((seam) => seam.id)).toEqual(['S1', 'S2', 'S3', 'S4']);
  });

  it('carries a drawn line without cutting: its points lie on the patch where they lie on the surface [invariant]', async () => {
    const drawn = lineMark({ id: 'drawn', kind: 'drawn', points: [front(-30, 0), front(35, 12)] });
    const result = await cutDisc(drawn);
    expect([result.patches.length, result.seams.length]).toEqual([1, 0]);
    const [{ mesh, marks }] = result.patches;
    expect(marks.map(({ line, kind, closed }) => ({ line, kind, closed }))).toEqual([{ line: 'drawn', kind: 'drawn', closed: false }]);
    const { face, weights } = marks[0].points;
    const places = Array.from(face, (f, i) =>
      placeOf(mesh, { face: f, weights: [weights[3 * i], weights[3 * i + 1], weights[3 * i + 2]] }),
    );
    const length = sum(places.slice(1).map((at, i) => Math.hypot(...at.map((c, k) => c - places[i][k]))));
    expect(Math.abs(length - (result.lines.find((line) => line.id === 'drawn')?.lengthMm ?? NaN))).toBeLessThan(1e-6);
    expect(Math.hypot(...places[0].map((c, k) => c - front(-30, 0)[k]))).toBeLessThan(0.2);
  });
});

describe('cutPatches: what cannot lie flat', () => {
  const pipe = meshOf(cylinder(40, 200, 48, 30, false));
  const band = areaMark({ strokes: [{ mode: 'fill', points: [[40, 100, 0]], radiusMm: 1 }] });

  it('refuses a tube, and takes it once a seam opens it [invariant]', async () => {
    const refused = await cutMesh(pipe, { areas: [band] });
    expect(refused.patches).toEqual([]);
    expect(refused.findings.map(({ severity, code }) => ({ severity, code }))).toEqual([{ severity: 'severe', code: 'patches/tube' }]);
    const seam = lineMark({
      points: [
        [40, 0, 0],
        [40, 200, 0],
      ],
    });
    const opened = await cutMesh(pipe, { areas: [band], lines: [seam] });
    expect(opened.findings).toEqual([]);
    expect(opened.patches.map((patch) => eulerCharacteristic(patch.mesh))).toEqual([1]);
    expect(opened.seams.map(({ surfaceMm }) => surfaceMm)).toEqual([expect.closeTo(200, 9)]);
    expectSeamsToFit(opened);
  });

  it('refuses a closed body and one with a handle, each by its own code [invariant]', async () => {
    const everything = areaMark({ strokes: [{ mode: 'fill', points: [[0, 0, radius]], radiusMm: 1 }] });
    expect((await cutMesh(ball, { areas: [everything] })).findings.map(({ code }) => code)).toEqual(['patches/closed']);
    const { positions, faces } = torus({ radius: 60, tube: 25 }, { edgeMm: 8 });
    const less = buildMesh(positions, faces.slice(3));
    const onTorus = areaMark({ strokes: [{ mode: 'fill', points: [[-85, 0, 0]], radiusMm: 1 }] });
    expect((await cutMesh(less, { areas: [onTorus] })).findings.map(({ code }) => code)).toEqual(['patches/handle']);
  });
});

describe('cutPatches: halves, landing and caching', () => {
  it('makes a left and a right piece of a mirrored mark: a pair of one index with equal areas [invariant]', async () => {
    // Without a seed the sphere is its own mirror image in x = 0.
    const mesh = sphereMesh(radius, 8);
    const area = areaMark({ strokes: [{ mode: 'paint', points: [front(50, 12)], radiusMm: 30 }] });
    const { patches } = await cutMesh(mesh, { mirrored: true, areas: [area] });
    expect(patches.map(({ id, pair, side }) => ({ id, pair, side })).sort((a, b) => (a.id < b.id ? -1 : 1))).toEqual([
      { id: 'a.1.L', pair: 'a.1.R', side: 'L' },
      { id: 'a.1.R', pair: 'a.1.L', side: 'R' },
    ]);
    const [left, right] = ['L', 'R'].map((side) => patches.filter((patch) => patch.side === side));
    // Each border stays within 0.1 mm of its circle of 30 mm: areas within 2 · 0.1 mm · 2πr of 2πr²/2.
    expect(Math.abs(areaOf(left) / areaOf(right) - 1)).toBeLessThan((4 * 0.1) / 30);
    // The wearer's left is up × front, y × z = +x.
    expect(Math.min(...left[0].mesh.positions.filter((_, i) => i % 3 === 0))).toBeGreaterThan(0);
  });

  it('gives the same objects for the same marks with the same cache, and others only where a mark has changed [contract]', async () => {
    const cache = createPatchCache();
    const far = areaMark({ id: 'far', strokes: [{ mode: 'paint', points: [[0, 0, -radius]], radiusMm: 30 }] });
    const first = await cutMesh(ball, { areas: [disc, far], lines: [upright] }, cache);
    const again = await cutMesh(ball, { areas: [disc, far], lines: [upright] }, cache);
    expect(again.patches).toHaveLength(3);
    for (const [i, patch] of again.patches.entries()) expect(patch).toBe(first.patches[i]);
    const changed = await cutMesh(ball, { areas: [{ ...disc, growMm: 4 }, far], lines: [upright] }, cache);
    const isKept = (patch: Patch): boolean => first.patches.includes(patch);
    expect(changed.patches.map((patch) => [patch.area, isKept(patch)]).sort()).toEqual([
      ['a', false],
      ['a', false],
      ['far', true],
    ]);
  });

  it('says which marks lie further than 25 mm from the body, and cuts the rest [contract]', async () => {
    const lost = areaMark({ id: 'lost', strokes: [{ mode: 'paint', points: [[0, 0, radius + 100]], radiusMm: 30 }] });
    const { patches, findings } = await cutMesh(ball, { areas: [disc, lost] });
    expect(patches.map((patch) => patch.area)).toEqual(['a']);
    expect(findings.map(({ severity, code, where }) => ({ severity, code, item: where?.item }))).toContainEqual({
      severity: 'severe',
      code: 'marks/far-from-body',
      item: 'lost',
    });
  });

  it('says that a layer is missing [contract]', async () => {
    const { findings } = await cutMesh(ball, { areas: [{ ...disc, layer: 2 }] });
    expect(findings.map(({ code }) => code)).toEqual(['marks/no-such-layer']);
  });
});

describe('cutPatches: any lines', () => {
  /** Lines of all kinds and paths at random, some through one another's points, vertices and ends. */
  function randomLines(random: () => number): LineMark[] {
    const spots: Vec3[] = [];
    const spot = (): Vec3 => {
      if (spots.length > 0 && random() < 0.2) return spots[Math.floor(random() * spots.length)];
      if (random() < 0.2) {
        const v = Math.floor((random() * ball.positions.length) / 3);
        if (ball.positions[3 * v + 2] > 60) return [ball.positions[3 * v], ball.positions[3 * v + 1], ball.positions[3 * v + 2]];
      }
      const [x, y] = [130 * random() - 65, 130 * random() - 65];
      spots.push(front(x, y));
      return front(x, y);
    };
    const kinds = ['seam', 'seam', 'dart', 'opening', 'drawn'] as const;
    const paths = ['shortest', 'plane', 'smooth'] as const;
    return Array.from({ length: 1 + Math.floor(4 * random()) }, (_, i) => {
      const closed = random() < 0.15;
      return lineMark({
        id: `l${i}`,
        kind: kinds[Math.floor(kinds.length * random())],
        path: paths[Math.floor(paths.length * random())],
        closed,
        points: Array.from({ length: closed ? 3 : 2 + Math.floor(2 * random()) }, spot),
      });
    });
  }

  for (const block of [0, 1, 2, 3])
    it(`leaves no crack, turned face or lost area with ten random sets of lines (${block + 1} of 4) [invariant]`, async () => {
      const whole = surfaceArea(cap);
      for (let seed = 10 * block; seed < 10 * block + 10; seed++) {
        const lines = randomLines(createRandom(seed + 1));
        const onDisc = await cutDisc(...lines);
        for (const patch of onDisc.patches) expectSound(patch, ball);
        expectSeamsToFit(onDisc);
        const onCap = await cutCap(...lines);
        for (const patch of onCap.patches) expectSound(patch, cap);
        expectSeamsToFit(onCap);
        // Of all pieces, dropped crumbs and refused ones included.
        expect(Math.abs(onCap.areas[0].areaMm2 / whole - 1), `seed ${seed}`).toBeLessThan(1e-9);
        if (onCap.findings.every(({ code }) => code.startsWith('lines/')))
          expect(Math.abs(areaOf(onCap.patches) / whole - 1), `seed ${seed}`).toBeLessThan(1e-9);
      }
    });
});
