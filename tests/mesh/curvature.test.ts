/*
 * Angle defects, and distances over the surface with distance-front.ts.
 */
import { describe, expect, it } from 'vitest';
import { buildMesh } from '../../src/mesh/build.ts';
import { angleDefects } from '../../src/mesh/curvature.ts';
import { createFront } from '../../src/mesh/distance-front.ts';
import { eulerCharacteristic, isBoundaryVertex } from '../../src/mesh/navigate.ts';
import { capMesh, cylinderMesh, lift, planeDisc, range, triangulateRegion } from '../support/flat-shapes.ts';

describe('angleDefects', () => {
  it('sum with the turning of the border to 2πχ: disc and ring [closed form]', () => {
    const disc = lift(planeDisc(300), (x, y) => [x, y, Math.sin(4 * x) * y]);
    const rim = range(60).map((i) => [Math.cos((i * Math.PI) / 30), Math.sin((i * Math.PI) / 30)] as const);
    const hole = range(20).map((i) => [0.3 * Math.cos((i * Math.PI) / 10), 0.3 * Math.sin((i * Math.PI) / 10)] as const);
    const ring = lift(
      triangulateRegion([...rim, ...hole], (x, y) => Math.hypot(x, y) < 1 && Math.hypot(x, y) > 0.295, 0.1),
      (x, y) => [x, y, x * x],
    );
    for (const mesh of [disc, ring]) {
      const sum = angleDefects(mesh).reduce((total, defect) => total + defect, 0);
      expect(Math.abs(sum - 2 * Math.PI * eulerCharacteristic(mesh))).toBeLessThan(1e-10);
    }
    expect(eulerCharacteristic(ring)).toBe(0);
  });

  it('are π/2 at the corners of a cube, 4π in all [closed form]', () => {
    const positions = Float64Array.from(range(8).flatMap((v) => [v & 1, (v >> 1) & 1, v >> 2]));
    const faces = [0, 2, 3, 0, 3, 1, 4, 5, 7, 4, 7, 6, 0, 1, 5, 0, 5, 4, 2, 6, 7, 2, 7, 3, 0, 4, 6, 0, 6, 2, 1, 3, 7, 1, 7, 5];
    for (const defect of angleDefects(buildMesh(positions, Uint32Array.from(faces)))) expect(defect).toBeCloseTo(Math.PI / 2, 12);
  });

  it('of a cap sum to 2π(1 − cos α) inside: 0.841787 at 30°, π at 60°, 2π at 90° [closed form]', () => {
    for (const [degrees, total] of [
      [30, 0.841787],
      [60, Math.PI],
      [90, 2 * Math.PI],
    ] as const) {
      const mesh = capMesh(1, (degrees / 180) * Math.PI, 4000);
      const sum = angleDefects(mesh).reduce((all, defect, v) => all + (isBoundaryVertex(mesh, v) ? 0 : defect), 0);
      // The curvature of the outermost ring of faces sits in the border's vertices.
      expect(sum).toBeLessThan(total);
      expect(sum).toBeGreaterThan(0.93 * total);
    }
  });

  it('counts a vertex with more than a full turn of surface as negative [closed form]', () => {
    // Ten triangles of 60° about a vertex, folded so that they close: 2π − 10π/3.
    const ring = range(10).map((i) => {
      const angle = (i * 2 * Math.PI) / 10;
      const height = i % 2 === 0 ? 0.78615 : -0.78615;
      const radius = Math.sqrt(1 - height * height);
      return [radius * Math.cos(angle), radius * Math.sin(angle), height];
    });
    const positions = Float64Array.from([0, 0, 0, ...ring.flat()]);
    const faces = Uint32Array.from(range(10).flatMap((i) => [0, 1 + i, 1 + ((i + 1) % 10)]));
    const edge = Math.hypot(...ring[0].map((x, k) => x - ring[1][k]));
    expect(angleDefects(buildMesh(positions, faces))[0]).toBeCloseTo(2 * Math.PI - 20 * Math.asin(edge / 2), 10);
    expect(angleDefects(buildMesh(positions, faces))[0]).toBeLessThan(-1);
  });
});

describe('createFront', () => {
  const distances = (mesh: ReturnType<typeof capMesh>, centre: number): Float64Array => {
    const found = new Float64Array(mesh.positions.length / 3).fill(Infinity);
    let last = 0;
    createFront(mesh).run(centre, (v, d) => {
      expect(d).toBeGreaterThanOrEqual(last - 1e-9);
      last = d;
      found[v] = d;
      return true;
    });
    return found;
  };

  it('is exact on a plane piece that the centre sees whole [closed form]', () => {
    const mesh = lift(planeDisc(400), (x, y) => [30 * x, 30 * y, 0]);
    const centre = 200;
    const found = distances(mesh, centre);
    for (let v = 0; v < found.length; v++) {
      const straight = Math.hypot(...[0, 1, 2].map((k) => mesh.positions[3 * v + k] - mesh.positions[3 * centre + k]));
      // Obtuse faces can be reached before both their near corners are settled.
      expect(found[v]).toBeGreaterThan(straight - 1e-9);
      expect(found[v]).toBeLessThan(straight * 1.02 + 1e-9);
    }
  });

  it('is Rθ on a sphere and √((RΔφ)² + Δz²) on a cylinder to the mesh [closed form]', () => {
    const cap = capMesh(100, 1.3, 3000);
    const top = range(cap.positions.length / 3).reduce((best, v) => (cap.positions[3 * v + 2] > cap.positions[3 * best + 2] ? v : best), 0);
    const found = distances(cap, top);
    for (let v = 0; v < found.length; v += 7) {
      const cosine = [0, 1, 2].reduce((sum, k) => sum + cap.positions[3 * v + k] * cap.positions[3 * top + k], 0) / 1e4;
      expect(Math.abs(found[v] - 100 * Math.acos(Math.min(1, cosine)))).toBeLessThan(1);
    }
    const tube = cylinderMesh(50, 100, 3, 60, 20);
    const from = 0;
    const over = distances(tube, from);
    for (let v = 0; v < over.length; v += 11) {
      const angle = Math.atan2(tube.positions[3 * v + 1], tube.positions[3 * v]);
      expect(Math.abs(over[v] - Math.hypot(50 * angle, tube.positions[3 * v + 2]))).toBeLessThan(1.2);
    }
  });

  it('stops where it is told to and can be run again [contract]', () => {
    const mesh = capMesh(100, 1, 300);
    const front = createFront(mesh);
    const order = (): number[] => {
      const seen: number[] = [];
      front.run(5, (v) => {
        seen.push(v);
        return seen.length < 20;
      });
      return seen;
    };
    const first = order();
    expect(first.length).toBe(20);
    expect(order()).toEqual(first);
  });
});
