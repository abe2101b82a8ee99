import { describe, expect, it } from 'vitest';
import { sampleJob } from '../../samples/jobs/tide-warden.ts';
import { quietRun } from '../../src/base/run.ts';
import { outlineMm } from '../../src/base/tolerance.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import type { DraftInput } from '../../src/draft/draft-parts.ts';
import { draftParts } from '../../src/draft/draft-parts.ts';
import { prepareParts } from '../../src/draft/prepare.ts';
import { runJob } from '../../src/pipeline.ts';
import { containsPoint, crossesItself } from '../../src/plane/polygon.ts';
import { distanceToPolyline, furthestFrom } from '../../src/plane/polyline.ts';

const made = (async () => {
  const { job, file } = await sampleJob();
  const { cut, flats, failed } = await runJob(job, file, quietRun, { until: 'lay-flat' });
  if (cut === undefined || flats === undefined) throw new Error(`the sample job failed: ${failed?.account.what ?? ''}`);
  const input: DraftInput = {
    patches: cut.patches,
    flats,
    seams: cut.seams,
    materials: job.materials,
    settings: job.draft,
    lines: job.marks.lines,
    up: job.body.up,
    front: job.body.front,
    jobName: job.name,
    date: job.date,
  };
  return { input, prepared: prepareParts(input), ...(await draftParts(input, quietRun)) };
})();

describe('the sample job, drafted', () => {
  it('keeps every seam line within 0.1 mm of the flattened border and 0.1 % of its length [must hold: draft]', async () => {
    const { prepared, parts, input } = await made;
    const mirrored = input.settings.tracedFace === 'inner';
    prepared.parts.forEach(({ borders }, i) => {
      borders.forEach((border, k) => {
        const { seamLine, lengthMm } = parts[i].sides[k];
        expect(Math.abs(lengthMm / border.lengthMm - 1), parts[i].sides[k].id).toBeLessThan(0.001);
        // From the part's frame to the file: mirrored about a vertical line and moved; the first point tells by how much.
        const sign = mirrored ? -1 : 1;
        const [dx, dy] = [seamLine[0] - sign * border.points[0], seamLine[1] - border.points[1]];
        const moved = border.points.map((x, at) => (at % 2 === 0 ? sign * x + dx : x + dy));
        expect(furthestFrom(moved, seamLine, false), parts[i].sides[k].id).toBeLessThan(outlineMm);
        expect(furthestFrom(seamLine, moved, false), parts[i].sides[k].id).toBeLessThan(outlineMm);
      });
    });
  });

  it('meets the seam rule everywhere [must hold: seam rule]', async () => {
    const { seams, findings } = await made;
    expect(seams.length).toBeGreaterThan(10);
    expect(findings.filter(({ severity }) => severity === 'severe')).toEqual([]);
    for (const seam of seams) {
      expect(Math.abs(seam.differenceMm), seam.id).toBeLessThanOrEqual(Math.max(0.5, 0.002 * seam.lengthsMm[0]));
      for (const [a, b] of seam.stretchesMm) expect(Math.abs(a - b), seam.id).toBeLessThanOrEqual(0.3);
    }
  });

  it('gives every seam a code that no other has, not even mirrored, and stands it on both mates [must hold: notch sets]', async () => {
    const { seams, parts } = await made;
    const keys = seams.map(({ code }) => [code, code.split('-').reverse().join('-')].sort()[0]);
    expect(new Set(keys).size).toBe(seams.length);
    for (const { id, code } of seams) {
      expect(code).not.toBe(code.split('-').reverse().join('-'));
      const notches = parts.flatMap((part) => part.notches).filter(({ seam }) => seam === id);
      expect(notches.length).toBe(2 * code.split('-').length);
    }
  });

  it('cuts simple outlines, with all words inside and off the cut lines [must hold: text never crosses]', async () => {
    const { parts } = await made;
    for (const part of parts) {
      expect(crossesItself(part.outline)).toBe(false);
      for (const { layer, curve } of part.drawing.paths) {
        if (layer !== 'TEXT' && layer !== 'ARROW') continue;
        const stroke = flattenCurve(curve, 0.05);
        for (let i = 0; i < stroke.length; i += 2) {
          expect(containsPoint(part.outline, stroke[i], stroke[i + 1]), part.id).toBe(true);
          expect(distanceToPolyline(part.outline, true, stroke[i], stroke[i + 1]), part.id).toBeGreaterThan(0.3);
        }
      }
    }
  });

  it('sees that left and right parts are one drawing, and nothing else is [contract: pairs]', async () => {
    const { parts } = await made;
    const rights = parts.filter(({ side }) => side === 'R');
    expect(rights.length).toBeGreaterThan(3);
    for (const part of parts) expect(part.mirrorOf, part.id).toBe(part.side === 'R' ? part.pair : undefined);
  });

  it('bends no fold into the smooth torso that a blade would have to follow steeply [second route: the surface is smooth]', async () => {
    const { seams } = await made;
    for (const seam of seams) expect(Math.max(Math.abs(seam.bevelDeg.min), Math.abs(seam.bevelDeg.max)), seam.id).toBeLessThan(8);
  });

  it('takes 8 mm out of a seam of the left breast from its two mates and from no other part [must hold: take in]', async () => {
    const { input, parts, seams } = await made;
    const side = { area: 'breast', line: 'breast-split', allowanceMm: 0, takeInMm: 8 };
    const after = await draftParts({ ...input, settings: { ...input.settings, sides: [side] } }, quietRun);
    const mates = seams.find(({ line }) => line === 'breast-split')?.parts;
    const changed = parts.filter((part, i) => part.version !== after.parts[i].version).map(({ id }) => id);
    expect(changed.sort()).toEqual([...(mates ?? [])].sort());
    parts.forEach((part, i) => {
      if (!changed.includes(part.id)) expect([...after.parts[i].outline]).toEqual([...part.outline]);
    });
  });

  it('draws curve templates for every part within 0.5 mm of the cut through its inner face [must hold: curve templates]', async () => {
    const { parts } = await made;
    for (const part of parts) {
      expect(part.templates.length, part.id).toBeGreaterThan(0);
      for (const { section, normal, drawing, name } of part.templates) {
        // Lay the cut down by its chord, both ways up; the drawn edge follows one of them.
        const n = section.length;
        const chord = [0, 1, 2].map((k) => section[n - 3 + k] - section[k]);
        const length = Math.hypot(...chord);
        const along = chord.map((x) => x / length);
        const up = [0, 1, 2].map((k) => normal[(k + 1) % 3] * along[(k + 2) % 3] - normal[(k + 2) % 3] * along[(k + 1) % 3]);
        const laid = [1, -1].map((sign) =>
          Float64Array.from({ length: (2 * n) / 3 }, (_, at) => {
            const i = 3 * Math.floor(at / 2);
            const axis = at % 2 === 0 ? along : up.map((x) => sign * x);
            return [0, 1, 2].reduce((sum, k) => sum + axis[k] * (section[i + k] - section[k]), 0);
          }),
        );
        const { curve } = drawing.paths[0];
        const edge = flattenCurve({ ...curve, closed: false, segments: curve.segments.slice(0, -3) }, 0.01);
        const off = laid.map((cut) => Math.max(furthestFrom(edge, cut, false), furthestFrom(cut, edge, false)));
        expect(Math.min(...off), name).toBeLessThan(0.1);
      }
    }
  });
});
