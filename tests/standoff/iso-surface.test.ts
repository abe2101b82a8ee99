import { describe, expect, it } from 'vitest';
import { together, sphere } from '../../samples/closed-bodies.ts';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { faceComponents } from '../../src/mesh/components.ts';
import { enclosedVolume } from '../../src/mesh/measure.ts';
import { eulerCharacteristic, halfEdgeLength } from '../../src/mesh/navigate.ts';
import { sampleBand } from '../../src/standoff/distance-grid.ts';
import { dropPockets, levelMesh, netOf } from '../../src/standoff/iso-surface.ts';

const box = { min: [-70, -70, -40], max: [70, 70, 40] } as const;
const torus = (x: number, y: number, z: number): number => Math.hypot(Math.hypot(x, y) - 40, z) - 15;

describe('netOf', () => {
  it('is closed, faces outward and has the genus of the field [invariant]', async () => {
    const net = netOf(await sampleBand(torus, box, 3, quietRun));
    expect(net.twin.every((g) => g !== -1)).toBe(true);
    expect(eulerCharacteristic(net)).toBe(0);
    expect(enclosedVolume(net) / (2 * Math.PI ** 2 * 40 * 225)).toBeCloseTo(1, 1);
  });
  it('is an edge manifold for fields with thin gaps at random [invariant]', async () => {
    const random = createRandom(12);
    for (let round = 0; round < 6; round++) {
      const balls = Array.from({ length: 12 }, () => [60 * random() - 30, 60 * random() - 30, 40 * random() - 20, 6 + 10 * random()]);
      const field = (x: number, y: number, z: number): number =>
        Math.min(...balls.map(([a, b, c, r]) => Math.abs(Math.hypot(x - a, y - b, z - c) - r) - 0.8));
      const net = netOf(await sampleBand(field, { min: [-60, -60, -50], max: [60, 60, 50] }, 2.5, quietRun));
      expect(net.twin.every((g) => g !== -1)).toBe(true);
    }
  });
});

describe('levelMesh', () => {
  it('has even edges: nine of ten within 0.6 to 1.5 of the wanted length [botsch-kobbelt2004 §4: 4/5 … 4/3 before sliding]', async () => {
    const grid = await sampleBand(torus, box, 2.5, quietRun);
    const { mesh, pockets } = await levelMesh(grid, (point) => point, 5, quietRun);
    expect(pockets).toBe(0);
    expect(eulerCharacteristic(mesh)).toBe(0);
    const lengths = Array.from({ length: mesh.faces.length }, (_, h) => halfEdgeLength(mesh, h) / 5).sort((a, b) => a - b);
    expect(lengths[Math.floor(0.05 * lengths.length)]).toBeGreaterThan(0.6);
    expect(lengths[Math.floor(0.95 * lengths.length)]).toBeLessThan(1.5);
  });
});

describe('dropPockets', () => {
  it('keeps bodies and leaves out the hollow inside one [invariant]', () => {
    const grain = { edgeMm: 6 };
    const hollow = sphere({ radius: 10 }, grain);
    const inward = { positions: hollow.positions, faces: Uint32Array.from(hollow.faces).reverse() };
    const all = together([
      { body: sphere({ radius: 30 }, grain), shift: [0, 0, 0] },
      { body: inward, shift: [0, 0, 0] },
      { body: sphere({ radius: 12 }, grain), shift: [60, 0, 0] },
    ]);
    const { mesh, pockets } = dropPockets(buildMesh(all.positions, all.faces));
    expect(pockets).toBe(1);
    expect(faceComponents(mesh).count).toBe(2);
  });
});
