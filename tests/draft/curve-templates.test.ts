import { describe, expect, it } from 'vitest';
import type { F64 } from '../../src/base/arrays.ts';
import { curveTemplates, innerFace } from '../../src/draft/curve-templates.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { prepareParts } from '../../src/draft/prepare.ts';
import { distanceToPolyline } from '../../src/plane/polyline.ts';
import { draftInput } from '../support/drafting.ts';
import { goreHemisphere, gridPatch } from '../support/patches.ts';

/** The curved edge of a template: everything but its three straight closing edges. */
const curvedEdge = (template: {
  readonly drawing: { readonly paths: readonly { readonly curve: Parameters<typeof flattenCurve>[0] }[] };
}): F64 => {
  const { curve } = template.drawing.paths[0];
  return flattenCurve({ ...curve, closed: false, segments: curve.segments.slice(0, -3) }, 0.005);
};

describe('curveTemplates', () => {
  it('cuts a bent half-cylinder three times into circles of its inner radius [closed form: R − t/2]', () => {
    const sheet = gridPatch({
      id: 'tube.1.C',
      columns: 48,
      rows: 10,
      forming: 'bent',
      space: (u, v) => [60 * Math.sin(3 * u - 1.5), 200 * v, 60 * Math.cos(3 * u - 1.5)],
      plane: (u, v) => [180 * u, 200 * v],
    });
    const { parts } = prepareParts(draftInput([sheet.patch], [sheet.flat]));
    const templates = curveTemplates(parts[0]);
    expect(templates.map(({ name }) => name)).toEqual(['A T1', 'A T2', 'A T3']);
    for (const template of templates) {
      expect(Math.abs(template.normal[1])).toBeCloseTo(1, 3);
      const edge = curvedEdge(template);
      // The chord lies level, so the circle's centre is 57 mm below the crown, half-way along.
      const crown = Math.max(...[...edge].filter((_, i) => i % 2 === 1));
      const middle = (edge[0] + edge[edge.length - 2]) / 2;
      for (let i = 0; i < edge.length; i += 2)
        expect(Math.abs(Math.hypot(edge[i] - middle, edge[i + 1] - (crown - 57)) - 57)).toBeLessThan(0.2);
    }
  });

  it('follows a collar that wraps further than half round, cut along its length [invariant: cuts are local]', () => {
    const collar = gridPatch({
      id: 'collar.1.C',
      columns: 80,
      rows: 6,
      forming: 'bent',
      space: (u, v) => [60 * Math.sin(5 * u - 2.5), 40 * v, 60 * Math.cos(5 * u - 2.5)],
      plane: (u, v) => [300 * u, 40 * v],
    });
    for (const { section } of curveTemplates(prepareParts(draftInput([collar.patch], [collar.flat])).parts[0])) {
      let length = 0;
      for (let i = 3; i < section.length; i += 3)
        length += Math.hypot(section[i] - section[i - 3], section[i + 1] - section[i - 2], section[i + 2] - section[i - 1]);
      expect(length).toBeCloseTo(5 * 57, 0);
    }
  });

  it('keeps within 0.5 mm of the inner face of a domed gore [must hold: curve templates]', () => {
    const gores = goreHemisphere(8, 100, 'domed');
    const { parts } = prepareParts(draftInput(gores.patches, gores.flats, gores.seams));
    const templates = curveTemplates(parts[0]);
    expect(templates.length).toBe(3);
    for (const template of templates) {
      // The cut in space lies on the sphere of the inner face, the drawn edge on the cut.
      for (let i = 0; i < template.section.length; i += 3)
        expect(Math.abs(Math.hypot(template.section[i], template.section[i + 1], template.section[i + 2]) - 97)).toBeLessThan(0.5);
      const edge = curvedEdge(template);
      const lengths = [edge, template.section].map((points, k) => {
        let sum = 0;
        const step = k === 0 ? 2 : 3;
        for (let i = step; i < points.length; i += step)
          sum += Math.hypot(
            points[i] - points[i - step],
            points[i + 1] - points[i + 1 - step],
            k === 0 ? 0 : points[i + 2] - points[i - 1],
          );
        return sum;
      });
      expect(Math.abs(lengths[0] - lengths[1])).toBeLessThan(0.2);
    }
  });

  it('leaves 25 mm of card behind the deepest point, on the body’s side, and writes its name there [common practice, no source]', () => {
    const gores = goreHemisphere(8, 100, 'domed');
    const { parts } = prepareParts(draftInput(gores.patches, gores.flats, gores.seams));
    for (const template of curveTemplates(parts[0])) {
      const outline = flattenCurve(template.drawing.paths[0].curve, 0.05);
      const edge = curvedEdge(template);
      const low = (points: F64): number => Math.min(...[...points].filter((_, i) => i % 2 === 1));
      expect(low(edge) - low(outline)).toBeCloseTo(25, 1);
      const [label] = template.drawing.labels;
      expect(label.at[1]).toBeLessThan(low(edge));
      expect(distanceToPolyline(outline, true, ...label.at)).toBeGreaterThan(3);
    }
  });
});

describe('innerFace', () => {
  it('lies k·t inside the neutral plane [closed form: sphere]', () => {
    const gores = goreHemisphere(8, 100, 'domed', 48);
    const { parts } = prepareParts(draftInput(gores.patches, gores.flats, gores.seams));
    const inner = innerFace(parts[0]);
    for (let i = 0; i < inner.length; i += 3) expect(Math.abs(Math.hypot(inner[i], inner[i + 1], inner[i + 2]) - 97)).toBeLessThan(0.02);
  });
});
