/*
 * Cotangent weights, the Laplacian and its patterns; with block-pattern.ts.
 */
import { describe, expect, it } from 'vitest';
import { prepareSolverNow } from '../../src/linalg/cholesky.ts';
import { multiply } from '../../src/linalg/sparse.ts';
import { blockPattern } from '../../src/mesh/block-pattern.ts';
import { edgePattern, halfCotangents, laplacianValues } from '../../src/mesh/cotangent.ts';
import { angleDefects } from '../../src/mesh/curvature.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { isBoundaryVertex } from '../../src/mesh/navigate.ts';
import { capMesh, lift, planeDisc, range } from '../support/flat-shapes.ts';

const bumpy = (seed: number): HalfEdgeMesh => lift(planeDisc(150, seed), (x, y) => [10 * x, 10 * y, 4 * Math.sin(3 * x) + y * y]);

describe('halfCotangents', () => {
  it('are ½ cot of the opposite angle, by the law of cosines [second route]', () => {
    const mesh = bumpy(1);
    const half = halfCotangents(mesh);
    for (let h = 0; h < half.length; h++) {
      const f = h - (h % 3);
      const at = [0, 1, 2].map((i) => mesh.faces[f + ((h + i) % 3)]);
      const [c, a, b] = [
        [0, 1],
        [1, 2],
        [2, 0],
      ].map(([i, j]) => Math.hypot(...[0, 1, 2].map((k) => mesh.positions[3 * at[i] + k] - mesh.positions[3 * at[j] + k])));
      const angle = Math.acos((a * a + b * b - c * c) / (2 * a * b));
      expect(Math.abs(half[h] - 0.5 / Math.tan(angle))).toBeLessThan(1e-9);
    }
  });

  it('do not depend on scale, from 1e-8 to 1e8 [invariant]', () => {
    const mesh = bumpy(2);
    const half = halfCotangents(mesh);
    for (const scale of [1e-8, 1e8]) {
      const scaled = halfCotangents({ faces: mesh.faces, positions: mesh.positions.map((x) => x * scale) });
      expect(Math.max(...scaled.map((value, h) => Math.abs(value - half[h])))).toBeLessThan(1e-11);
    }
  });
});

describe('laplacianValues', () => {
  it('kills constants, and linear functions of a plane mesh inside [pinkall1993]', () => {
    const disc = planeDisc(200, 3);
    const mesh = lift(disc, (x, y) => [x, y, 0]);
    const pattern = edgePattern(mesh, mesh.positions.length / 3, []);
    const { size, columnStart, row } = pattern;
    const matrix = { size, columnStart, row, real: laplacianValues(mesh, pattern, halfCotangents(mesh)) };
    expect(Math.max(...multiply(matrix, { real: new Float64Array(size).fill(1) }).real.map(Math.abs))).toBeLessThan(1e-12);
    const linear = multiply(matrix, {
      real: Float64Array.from({ length: size }, (_, v) => 3 * disc.points[2 * v] - disc.points[2 * v + 1]),
    }).real;
    linear.forEach((value, v) => {
      if (!isBoundaryVertex(mesh, v)) expect(Math.abs(value)).toBeLessThan(1e-12);
    });
  });

  it('½ uᵀLu is the Dirichlet energy face by face [second route]', () => {
    const mesh = bumpy(4);
    const n = mesh.positions.length / 3;
    const pattern = edgePattern(mesh, n, []);
    const { size, columnStart, row } = pattern;
    const matrix = { size, columnStart, row, real: laplacianValues(mesh, pattern, halfCotangents(mesh)) };
    const u = Float64Array.from({ length: n }, (_, v) => Math.sin(7 * v));
    const form = multiply(matrix, { real: u }).real.reduce((sum, value, v) => sum + (value * u[v]) / 2, 0);
    let energy = 0;
    for (let f = 0; f < mesh.faces.length; f += 3) {
      const [a, b, c] = [0, 1, 2].map((i) => mesh.faces[f + i]);
      const [p, q] = [b, c].map((v) => [0, 1, 2].map((k) => mesh.positions[3 * v + k] - mesh.positions[3 * a + k]));
      const [pp, pq, qq] = [
        [p, p],
        [p, q],
        [q, q],
      ].map(([x, y]) => x.reduce((sum, value, k) => sum + value * y[k], 0));
      const [du, dv] = [u[b] - u[a], u[c] - u[a]];
      const det = pp * qq - pq * pq;
      energy += ((Math.sqrt(det) / 2) * ((qq * du * du - 2 * pq * du * dv + pp * dv * dv) / det)) / 2;
    }
    expect(Math.abs(form / energy - 1)).toBeLessThan(1e-12);
  });

  it('solves Δu = K, u = 0 on the rim of a cap: u(0) = 2 ln cos(α/2), −0.287682 at 60°, −0.693147 at 90° [closed form]', () => {
    for (const degrees of [60, 90]) {
      const alpha = (degrees / 180) * Math.PI;
      const mesh = capMesh(1, alpha, 3000);
      const n = mesh.positions.length / 3;
      const rim = range(n).filter((v) => isBoundaryVertex(mesh, v));
      const pattern = edgePattern(mesh, n, rim);
      const { size, columnStart, row } = pattern;
      const matrix = { size, columnStart, row, real: laplacianValues(mesh, pattern, halfCotangents(mesh)) };
      const solver = prepareSolverNow(matrix);
      solver.factorNow(matrix);
      const defects = angleDefects(mesh);
      // L is −Δ: L u = −K.
      const u = solver.solve(Float64Array.from(pattern.unknownVertex, (v) => -defects[v])).real;
      expect(Math.abs(Math.min(...u) - 2 * Math.log(Math.cos(alpha / 2)))).toBeLessThan(1.5e-3);
    }
  });
});

describe('edgePattern', () => {
  it('has every edge once, rows ascending after the diagonal, eliminated vertices left out [invariant]', () => {
    const mesh = bumpy(5);
    const n = mesh.positions.length / 3;
    const pattern = edgePattern(mesh, n, [3, 77]);
    expect(pattern.size).toBe(n - 2);
    const edges = new Set<string>();
    for (let h = 0; h < mesh.faces.length; h++) {
      const [a, b] = [mesh.faces[h], mesh.faces[h % 3 === 2 ? h - 2 : h + 1]];
      const [i, j] = [pattern.vertexUnknown[a], pattern.vertexUnknown[b]];
      if ([a, b].some((v) => v === 3 || v === 77)) expect(pattern.halfEdgeEntry[h]).toBe(-1);
      else {
        edges.add(`${Math.max(i, j)} ${Math.min(i, j)}`);
        expect(pattern.row[pattern.halfEdgeEntry[h]]).toBe(Math.max(i, j));
      }
    }
    expect(pattern.row.length).toBe(edges.size + pattern.size);
    for (let j = 0; j < pattern.size; j++) {
      expect(pattern.row[pattern.columnStart[j]]).toBe(j);
      for (let q = pattern.columnStart[j] + 1; q < pattern.columnStart[j + 1]; q++) {
        expect(pattern.row[q]).toBeGreaterThan(pattern.row[q - 1]);
        expect(edges.has(`${pattern.row[q]} ${j}`)).toBe(true);
      }
    }
  });

  it('shares one entry between two edges that join the same vertices, and has none for a loop [closed form]', () => {
    // Two triangles glued along two edges, as intrinsic flips can make: vertices 0, 1, 1 and 0, 1, 0.
    const faces = Uint32Array.from([0, 1, 1, 1, 0, 0]);
    const pattern = edgePattern({ faces, twin: Int32Array.from([3, -1, 5, 0, -1, 2]) }, 2, []);
    expect(Array.from(pattern.row)).toEqual([0, 1, 1]);
    expect(Array.from(pattern.columnStart)).toEqual([0, 2, 3]);
    expect(Array.from(pattern.halfEdgeEntry)).toEqual([1, -1, 1, 1, -1, 1]);
  });
});

describe('blockPattern', () => {
  it('has a 2 × 2 block where the vertex pattern has an entry [invariant]', () => {
    const mesh = bumpy(6);
    const pattern = edgePattern(mesh, mesh.positions.length / 3, []);
    const blocks = blockPattern(pattern);
    expect(blocks.size).toBe(2 * pattern.size);
    for (let j = 0; j < pattern.size; j++)
      for (let q = pattern.columnStart[j]; q < pattern.columnStart[j + 1]; q++) {
        const i = pattern.row[q];
        const first = [blocks.row[blocks.first[q]], blocks.row[blocks.first[q] + 1]];
        expect(first).toEqual([2 * i, 2 * i + 1]);
        expect(blocks.first[q]).toBeGreaterThanOrEqual(blocks.columnStart[2 * j]);
        expect(blocks.first[q] + 1).toBeLessThan(blocks.columnStart[2 * j + 1]);
        if (i === j) expect(blocks.row[blocks.second[q]]).toBe(2 * i + 1);
        else expect([blocks.row[blocks.second[q]], blocks.row[blocks.second[q] + 1]]).toEqual([2 * i, 2 * i + 1]);
        expect(blocks.second[q]).toBeGreaterThanOrEqual(blocks.columnStart[2 * j + 1]);
        expect(blocks.second[q]).toBeLessThan(blocks.columnStart[2 * j + 2]);
      }
  });
});
