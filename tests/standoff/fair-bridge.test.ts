import { describe, expect, it } from 'vitest';
import { plane } from '../../samples/bodies.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { smoothWithoutShrinking } from '../../src/standoff/fair-bridge.ts';

describe('smoothWithoutShrinking', () => {
  const flat = plane({ width: 400, height: 40 }, { edgeMm: 4 });
  const total = flat.positions.length / 3;
  const isInside = (v: number): boolean => {
    const [x, y] = [flat.positions[3 * v], flat.positions[3 * v + 1]];
    return x > 1 && x < 399 && y > 1 && y < 39;
  };
  const isFree = Uint8Array.from({ length: total }, (_, v) => (isInside(v) ? 1 : 0));
  /** Amplitude left of a ripple along x with so many edges a wave, over the middle of the strip; its borders ripple along. */
  const amplitudeLeft = (edges: number): number => {
    const wave = (v: number): number => Math.cos((2 * Math.PI * flat.positions[3 * v]) / (4 * edges));
    const rippled = flat.positions.map((z, i) => (i % 3 === 2 ? wave((i - 2) / 3) : z));
    const smooth = smoothWithoutShrinking(buildMesh(rippled, flat.faces), isFree);
    let [own, both] = [0, 0];
    for (let v = 0; v < total; v++) {
      if (Math.abs(flat.positions[3 * v] - 200) > 60 || Math.abs(flat.positions[3 * v + 1] - 20) > 1) continue;
      own += smooth[3 * v + 2] * wave(v);
      both += wave(v) * wave(v);
    }
    return own / both;
  };
  it('damps a ripple of four edges to below a tenth and keeps waves of thirty edges within 5 % [taubin1995: ((1 − λk)(1 − μk))ⁿ]', () => {
    // The strip's two long borders do not move, so a little of the ripple stays beside them.
    expect(Math.abs(amplitudeLeft(4))).toBeLessThan(0.1);
    expect(Math.abs(amplitudeLeft(30) - 1)).toBeLessThan(0.05);
  });
  it('leaves vertices that are not free exactly where they are [invariant]', () => {
    const rough = flat.positions.map((x, i) => (i % 3 === 2 ? Math.sin(i) : x));
    const smooth = smoothWithoutShrinking(buildMesh(rough, flat.faces), isFree);
    for (let v = 0; v < total; v++) if (isFree[v] === 0) expect(smooth.slice(3 * v, 3 * v + 3)).toEqual(rough.slice(3 * v, 3 * v + 3));
  });
});
