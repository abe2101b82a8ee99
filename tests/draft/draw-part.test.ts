import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { draftParts } from '../../src/draft/draft-parts.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { layerNames } from '../../src/draft/drawing.ts';
import { boxOf, signedArea } from '../../src/plane/polygon.ts';
import { distanceToPolyline, furthestFrom } from '../../src/plane/polyline.ts';
import { draftInput } from '../support/drafting.ts';
import { gridPatch, ringPatch } from '../support/patches.ts';

describe('drawPart', () => {
  it('draws outline and hole of a ring as smooth closed curves within 0.1 mm of their polygons [contract of drafting]', async () => {
    const { patch, flat } = ringPatch(40, 90, 120);
    const { parts } = await draftParts(draftInput([patch], [flat]), quietRun);
    const [part] = parts;
    expect(part.holes.length).toBe(1);
    expect(signedArea(part.outline)).toBeGreaterThan(0);
    expect(signedArea(part.holes[0])).toBeLessThan(0);
    // Polygons of 120 corners: ½·n·r²·sin(2π/n).
    const polygon = (radius: number): number => 60 * radius * radius * Math.sin((2 * Math.PI) / 120);
    expect(Math.abs(part.areaMm2 / (polygon(90) - polygon(40)) - 1)).toBeLessThan(0.001);
    const layers = part.drawing.paths.map(({ layer }) => layer);
    expect(layers.filter((layer) => layer === 'CUT').length).toBe(1);
    expect(layers.filter((layer) => layer === 'CUT_INSIDE').length).toBe(1);
    const hole = part.drawing.paths.find(({ layer }) => layer === 'CUT_INSIDE');
    if (hole === undefined) throw new Error('no hole');
    const points = flattenCurve(hole.curve, 0.005);
    for (let i = 0; i < points.length; i += 2) expect(Math.abs(Math.hypot(points[i] - 90, points[i + 1] - 90) - 40)).toBeLessThan(0.1);
    expect(hole.curve.segments.every(({ kind }) => kind === 'cubic')).toBe(true);
  });

  it('puts the corner of the part’s box at its origin and the outline within 0.1 mm of the curve on CUT [contract: outline]', async () => {
    const { patch, flat } = gridPatch({
      id: 'p.1.C',
      columns: 30,
      rows: 30,
      space: (u, v) => [100 * u, 140 * v, 0],
      plane: (u, v) => [100 * u + 6 * Math.sin(5 * v) - 500, 140 * v + 300],
    });
    const { parts } = await draftParts(draftInput([patch], [flat]), quietRun);
    expect(boxOf(parts[0].outline).min.map((x) => Math.abs(x) < 0.03)).toEqual([true, true]);
    const cut = parts[0].drawing.paths.find(({ layer }) => layer === 'CUT');
    if (cut === undefined) throw new Error('no cut line');
    expect(furthestFrom(flattenCurve(cut.curve, 0.001), parts[0].outline, true)).toBeLessThan(0.1);
    expect(cut.curve.segments.at(-1)?.to).toEqual(cut.curve.start);
  });

  it('carries fittings to their places, mirrored with the inner face [contract: fittings]', async () => {
    const { patch, flat } = gridPatch({
      id: 'p.1.C',
      columns: 4,
      rows: 4,
      space: (u, v) => [100 * u, 140 * v, 0],
      plane: (u, v) => [100 * u, 140 * v],
    });
    const fitted = { ...patch, points: [{ id: 'strap-1', kind: 'strap', face: 0, weights: [1, 0, 0] }] as const };
    const { parts } = await draftParts(draftInput([fitted], [flat]), quietRun);
    const drawn = parts[0].drawing.paths.filter(({ layer }) => layer === 'DRAWN').map(({ curve }) => flattenCurve(curve, 0.01));
    expect(drawn.length).toBeGreaterThan(2);
    // Corner (0, 0) of the outside lies right, at 100, on the inside.
    for (const line of drawn.slice(0, 2)) expect(distanceToPolyline(line, false, 100, 0)).toBeLessThan(1e-9);
  });

  it('uses the layers of the contract and names its part on every path [contract: Layers]', async () => {
    const { patch, flat } = ringPatch(40, 90, 120);
    const { parts } = await draftParts(draftInput([patch], [flat]), quietRun);
    for (const { layer, part } of parts[0].drawing.paths) {
      expect(layerNames).toContain(layer);
      expect(part).toBe('ring.1.C');
    }
    for (const label of parts[0].drawing.labels) expect(label.part).toBe('ring.1.C');
  });

  it('writes name, side, count, material, thickness, face, job, date and version [contract: labels]', async () => {
    const { patch, flat } = gridPatch({
      id: 'breast.1.L',
      side: 'L',
      name: 'Breast, upper',
      columns: 4,
      rows: 4,
      space: (u, v) => [300 * u, 240 * v, 0],
      plane: (u, v) => [300 * u, 240 * v],
    });
    const { parts } = await draftParts(draftInput([patch], [flat]), quietRun);
    const words = parts[0].drawing.labels.map(({ text }) => text).join(' | ');
    for (const word of [
      'A  Breast, upper',
      'left',
      'cut 1',
      'EVA foam 6 mm',
      'inside up',
      'Tide warden, chest',
      '2026-11-25',
      `version ${parts[0].version}`,
      'breast.1.L',
      'A1 finished edge',
    ])
      expect(words).toContain(word);
  });
});
