/*
 * orient.ts, split.ts and edge-groups.ts: any triangles to oriented, manifold ones.
 */
import { describe, expect, it } from 'vitest';
import { groupEdges } from '../../src/body/edge-groups.ts';
import { orientFaces } from '../../src/body/orient.ts';
import { splitFans } from '../../src/body/split.ts';
import { weldEqual } from '../../src/body/weld.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { faceComponents } from '../../src/mesh/components.ts';
import { enclosedVolume } from '../../src/mesh/measure.ts';
import { boundaryLoops, eulerCharacteristic } from '../../src/mesh/navigate.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import type { Shape } from '../support/shapes.ts';
import { box, cylinder, shuffled, sphere, together, turnedOver } from '../support/shapes.ts';

function mended(shape: Shape): { mesh: HalfEdgeMesh; oriented: ReturnType<typeof orientFaces>; split: ReturnType<typeof splitFans> } {
  const welded = weldEqual(shape).triangles;
  const oriented = orientFaces(welded);
  const split = splitFans({ positions: welded.positions, faces: oriented.faces }, oriented.partner);
  return { mesh: buildMesh(split.triangles.positions, split.triangles.faces), oriented, split };
}

const ball = sphere(100, 3);
const ballVolume = enclosedVolume(ball);

describe('groupEdges', () => {
  it('gathers each edge of a sphere twice, and long fans too [Euler: E = 3F/2]', () => {
    const groups = groupEdges(ball.faces, ball.positions.length / 3);
    expect(groups.start.length - 1).toBe((3 * 1280) / 2);
    for (let e = 0; e + 1 < groups.start.length; e++) expect(groups.start[e + 1] - groups.start[e]).toBe(2);
    const fan = Uint32Array.from(Array.from({ length: 200 }, (_, i) => [0, 1 + i, 1 + ((i + 1) % 200)]).flat());
    const around = groupEdges(fan, 201);
    expect(around.start.length - 1).toBe(400);
  });
});

describe('orientFaces', () => {
  it('turns a shuffled sphere outward from any start [closed form: volume]', () => {
    for (const share of [0, 0.05, 0.5, 0.95, 1]) {
      const { mesh } = mended(shuffled(ball, 3, share));
      expect(enclosedVolume(mesh), `share ${share}`).toBeCloseTo(ballVolume, 3);
      expect(eulerCharacteristic(mesh)).toBe(2);
    }
  });

  it('counts only the faces that disagree with most of their patch [closed form]', () => {
    const faces = Uint32Array.from(ball.faces);
    for (const f of [5, 600, 1000]) [faces[3 * f + 1], faces[3 * f + 2]] = [faces[3 * f + 2], faces[3 * f + 1]];
    expect(orientFaces({ ...ball, faces })).toMatchObject({ turnedFaces: 3, turnedComponents: 0 });
    expect(orientFaces(turnedOver(ball))).toMatchObject({ turnedFaces: 0, turnedComponents: 1 });
  });

  it('turns each part outward by itself, open ones too [closed form: sign of p·N]', () => {
    const tube = cylinder(50, 200, 40, 10, false);
    const { mesh, oriented } = mended(together(turnedOver(tube), sphere(20, 2, [300, 0, 0]), turnedOver(sphere(20, 2, [-300, 0, 0]))));
    expect(oriented.turnedComponents).toBe(2);
    for (let f = 0; f < tube.faces.length / 3; f++) {
      const [a, b, c] = [0, 1, 2].map((i) => mesh.faces[3 * f + i]);
      const p = (v: number, k: number): number => mesh.positions[3 * v + k];
      const normal = [0, 2].map((k) => {
        const [u, w] = [(k + 1) % 3, (k + 2) % 3];
        return (p(b, u) - p(a, u)) * (p(c, w) - p(a, w)) - (p(b, w) - p(a, w)) * (p(c, u) - p(a, u));
      });
      expect(normal[0] * p(a, 0) + normal[1] * p(a, 2)).toBeGreaterThan(0);
    }
  });

  it('turns a bowl so that it bulges outward [closed form]', () => {
    const bowl: Shape = { ...ball, faces: ball.faces.filter((_, h) => ball.positions[3 * ball.faces[h - (h % 3)] + 2] > 30) };
    for (const shape of [bowl, turnedOver(bowl)]) {
      const { mesh } = mended(shape);
      const [a, b, c] = [0, 1, 2].map((i) => mesh.faces[i]);
      const p = (v: number, k: number): number => mesh.positions[3 * v + k];
      const normalZ = (p(b, 0) - p(a, 0)) * (p(c, 1) - p(a, 1)) - (p(b, 1) - p(a, 1)) * (p(c, 0) - p(a, 0));
      expect(normalZ).toBeGreaterThan(0);
    }
  });
});

describe('splitFans', () => {
  it('parts two boxes that share one vertex [closed form: two bodies of volume 1]', () => {
    const { mesh, split } = mended(together(box([0, 0, 0], [1, 1, 1]), box([1, 1, 1], [2, 2, 2])));
    expect(split).toMatchObject({ splitVertices: 1, droppedFaces: 0 });
    expect([faceComponents(mesh).count, boundaryLoops(mesh).length]).toEqual([2, 0]);
    expect(enclosedVolume(mesh)).toBeCloseTo(2, 12);
  });

  it('parts two boxes that share one edge, by their solid sides [closed form: two bodies of volume 1]', () => {
    const { mesh, oriented } = mended(together(box([0, 0, 0], [1, 1, 1]), box([1, 1, 0], [2, 2, 1])));
    expect(oriented.crowdedEdges).toBe(1);
    expect([faceComponents(mesh).count, boundaryLoops(mesh).length]).toEqual([2, 0]);
    expect(enclosedVolume(mesh)).toBeCloseTo(2, 12);
  });

  it('cuts a fin off a flat sheet and leaves the sheet whole [closed form]', () => {
    const positions = Float64Array.from([0, 0, 0, 0, 1, 0, 1, 0.5, 0, -1, 0.5, 0, 0, 0.5, 1]);
    const faces = Uint32Array.from([0, 2, 1, 0, 1, 3, 0, 1, 4]);
    const { mesh } = mended({ positions, faces });
    const { labels, count } = faceComponents(mesh);
    expect(count).toBe(2);
    expect(labels[0]).toBe(labels[1]);
    expect(labels[2]).not.toBe(labels[0]);
  });

  it('opens a one-sided strip [Möbius: no orientation exists]', () => {
    const n = 24;
    const positions: number[] = [];
    for (let i = 0; i < n; i++) {
      const angle = (2 * Math.PI * i) / n;
      for (const s of [-1, 1]) {
        const r = 10 + s * Math.cos(angle / 2);
        positions.push(r * Math.cos(angle), r * Math.sin(angle), s * Math.sin(angle / 2));
      }
    }
    const faces: number[] = [];
    for (let i = 0; i < n; i++) {
      const [a, b] = [2 * i, 2 * i + 1];
      const [c, d] = i + 1 < n ? [2 * i + 2, 2 * i + 3] : [1, 0];
      faces.push(a, c, b, b, c, d);
    }
    const { mesh, oriented } = mended({ positions: Float64Array.from(positions), faces: Uint32Array.from(faces) });
    expect(oriented.oneSidedEdges).toBe(1);
    expect(boundaryLoops(mesh).length).toBe(1);
    expect(eulerCharacteristic(mesh)).toBe(1);
  });

  it('leaves a clean mesh untouched [identity]', () => {
    const oriented = orientFaces(ball);
    expect(oriented.faces).toBe(ball.faces);
    expect(splitFans(ball, oriented.partner).triangles.faces).toBe(ball.faces);
  });
});
