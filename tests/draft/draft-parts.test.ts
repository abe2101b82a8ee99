import { describe, expect, it } from 'vitest';
import type { F64 } from '../../src/base/arrays.ts';
import { createRun, quietRun } from '../../src/base/run.ts';
import type { DraftInput } from '../../src/draft/draft-parts.ts';
import { draftParts } from '../../src/draft/draft-parts.ts';
import type { DraftedPart } from '../../src/draft/drafted-part.ts';
import type { LayerName } from '../../src/draft/drawing.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { mirrorDistance } from '../../src/draft/pairs.ts';
import { boxOf, containsPoint, signedArea } from '../../src/plane/polygon.ts';
import { distanceToPolyline, furthestFrom } from '../../src/plane/polyline.ts';
import { draftInput, sideDraft } from '../support/drafting.ts';
import { goreHemisphere, gridPatch, roof, seamBetween } from '../support/patches.ts';

const roofInput = (fold: number, settings: Parameters<typeof draftInput>[3] = {}): DraftInput => {
  const { patches, flats, seams } = roof(fold, 120, 200);
  return draftInput(patches, flats, seams, settings);
};
const goreInput = (forming: 'bent' | 'domed', settings: Parameters<typeof draftInput>[3] = {}): DraftInput => {
  const { patches, flats, seams } = goreHemisphere(8, 100, forming);
  return draftInput(patches, flats, seams, settings);
};
/** Eight gores with the defaults of a job, drafted once for all claims. */
const gores = { bent: draftParts(goreInput('bent'), quietRun), domed: draftParts(goreInput('domed'), quietRun) };
const linesOn = (part: DraftedPart, layer: LayerName): F64[] =>
  part.drawing.paths.filter((path) => path.layer === layer).map(({ curve }) => flattenCurve(curve, 0.005));
const degrees = (angle: number): number => (angle * Math.PI) / 180;

describe('draftParts: bevels', () => {
  for (const fold of [30, 60, 90])
    it(`cuts the sheets of a ${fold}° ridge at their outer face, inner line t·tan(fold/2) further in [closed form: fold rule]`, async () => {
      const { parts, seams } = await draftParts(roofInput(fold), quietRun);
      expect(seams[0].bevelDeg.min).toBeCloseTo(fold / 2, 9);
      expect(seams[0].bevelDeg.max).toBeCloseTo(fold / 2, 9);
      const spread = 6 * Math.tan(degrees(fold / 2));
      for (const part of parts) {
        // Neutral factor 0.5: the outer face reaches half the spread past the seam line.
        expect(part.areaMm2).toBeCloseTo((120 + spread / 2) * 200, 3);
        expect(part.bevels.map(({ loses }) => loses)).toEqual(['inner']);
        const [[outer], [inner]] = [linesOn(part, 'BEVEL_OUTER'), linesOn(part, 'BEVEL_INNER')];
        expect(furthestFrom(outer, part.outline, true)).toBeLessThan(1e-6);
        for (let i = 0; i < inner.length; i += 2) expect(distanceToPolyline(outer, false, inner[i], inner[i + 1])).toBeCloseTo(spread, 6);
        expect(part.drawing.labels.map(({ text }) => text)).toContain(`${fold / 2}° off inner`);
      }
    });

  it('cuts a valley at its inner face and takes foam off the outer one [contract: Cut line]', async () => {
    const { parts, seams } = await draftParts(roofInput(-60), quietRun);
    expect(seams[0].bevelDeg.min).toBeCloseTo(-30, 9);
    for (const part of parts) {
      expect(part.bevels[0].loses).toBe('outer');
      expect(furthestFrom(linesOn(part, 'BEVEL_INNER')[0], part.outline, true)).toBeLessThan(1e-6);
    }
  });

  it('leaves the flattened border alone when bevels are off [contract: draft.bevel]', async () => {
    const { parts } = await draftParts(roofInput(60, { bevel: false }), quietRun);
    expect(parts[0].areaMm2).toBeCloseTo(120 * 200, 6);
    expect(parts[0].bevels).toEqual([]);
  });

  it('bevels bent gores most at the rim and not at the pole; domed ones nowhere [contract: Fold]', async () => {
    const bent = await gores.bent;
    for (const seam of bent.seams) {
      expect(Math.abs(seam.bevelDeg.max - 22.5)).toBeLessThan(0.2);
      expect(Math.abs(seam.bevelDeg.min)).toBeLessThan(0.3);
    }
    const domed = await gores.domed;
    for (const part of domed.parts) expect(part.bevels).toEqual([]);
  });

  it('warns of an edge steeper than a blade guide holds [common practice, no source]', async () => {
    const { findings } = await draftParts(roofInput(100), quietRun);
    expect(findings.map(({ code }) => code)).toContain('draft/bevel-too-steep');
  });
});

describe('draftParts: traced face', () => {
  it('mirrors the drawing once for the inner face, and never its words [contract: traced face]', async () => {
    const [inner, outer] = [await gores.bent, await draftParts(goreInput('bent', { tracedFace: 'outer' }), quietRun)];
    for (const [i, part] of inner.parts.entries()) {
      expect([part.mirrored, outer.parts[i].mirrored]).toEqual([true, false]);
      expect(mirrorDistance(part.outline, outer.parts[i].outline)).toBeLessThan(0.05);
      expect(signedArea(part.outline)).toBeGreaterThan(0);
      expect(boxOf(part.outline).min.every((x) => Math.abs(x) < 0.03)).toBe(true);
    }
    // A crooked outline shows that it was mirrored: the roof's ridge is right on the outside of the left sheet.
    const [left] = (await draftParts(roofInput(60), quietRun)).parts;
    const ridge = linesOn(left, 'BEVEL_INNER')[0];
    expect(ridge[0]).toBeLessThan(10);
    const capital = inner.parts[0].drawing.labels[0];
    expect(capital.text.startsWith('A')).toBe(true);
  });

  it('keeps all words inside the part and off its cut line [contract: text never crosses]', async () => {
    for (const forming of ['bent', 'domed'] as const) {
      const { parts } = await gores[forming];
      for (const part of parts)
        for (const stroke of [...linesOn(part, 'TEXT'), ...linesOn(part, 'ARROW')])
          for (let i = 0; i < stroke.length; i += 2) {
            expect(containsPoint(part.outline, stroke[i], stroke[i + 1])).toBe(true);
            expect(distanceToPolyline(part.outline, true, stroke[i], stroke[i + 1])).toBeGreaterThan(0.3);
          }
    }
  });
});

describe('draftParts: seams and notches', () => {
  it('stands the notches of both mates at equal arc lengths, with one code a seam, unique up to mirror image [contract: Notches]', async () => {
    const { parts, seams } = await gores.bent;
    const codes = seams.map(({ code }) => [code, [...code].reverse().join('')].sort()[0]);
    expect(new Set(codes).size).toBe(seams.length);
    for (const seam of seams) {
      expect(seam.code).not.toBe([...seam.code].reverse().join(''));
      const [first, second] = seam.parts.map(
        (id) => parts.find((part) => part.id === id)?.notches.filter((notch) => notch.seam === seam.id) ?? [],
      );
      expect(first.length).toBe(seam.code.split('-').length);
      expect(first.map(({ ticks }) => ticks).join('-')).toBe(seam.code);
      first.forEach((notch, i) => expect(Math.abs(notch.alongMm - second[i].alongMm)).toBeLessThan(1e-6));
    }
  });

  it('places each notch on its seam line, at its arc length from the start of the first side [invariant]', async () => {
    const { parts, seams } = await gores.domed;
    for (const seam of seams)
      seam.sides.forEach((id, k) => {
        const part = parts.find((each) => each.id === seam.parts[k]);
        const side = part?.sides.find((each) => each.id === id);
        if (part === undefined || side === undefined) throw new Error('the row names a side that is not there');
        for (const notch of part.notches.filter((each) => each.seam === seam.id)) {
          const { seamLine } = side;
          expect(distanceToPolyline(seamLine, false, ...notch.at)).toBeLessThan(0.03);
          // Walk to the nearest place on the line.
          let [along, walked, least] = [0, 0, Infinity];
          for (let i = 2; i < seamLine.length; i += 2) {
            const step = Math.hypot(seamLine[i] - seamLine[i - 2], seamLine[i + 1] - seamLine[i - 1]);
            for (let j = 0; j < 50; j++) {
              const [x, y] = [0, 1].map((c) => seamLine[i - 2 + c] + (j / 50) * (seamLine[i + c] - seamLine[i - 2 + c]));
              const away = Math.hypot(x - notch.at[0], y - notch.at[1]);
              if (away < least) [least, along] = [away, walked + (j / 50) * step];
            }
            walked += step;
          }
          expect(Math.abs((k === 0 ? along : walked - along) - notch.alongMm)).toBeLessThan(0.6);
        }
      });
  });

  it('walks seams and meets the seam rule on mirrored gores [contract: Seams meet]', async () => {
    const { seams, findings } = await gores.domed;
    expect(findings).toEqual([]);
    for (const seam of seams) {
      expect(Math.abs(seam.differenceMm)).toBeLessThan(1e-6);
      expect(seam.refused).toBe(false);
    }
  });

  it('refuses sides that differ by more than 3 mm, unless that is declared as ease [contract: Seams meet]', async () => {
    const { patches, flats, seams } = roof(20, 120, 200);
    const longer = { ...flats[1], positions: Float64Array.from(flats[1].positions, (x, i) => (i % 2 === 1 ? x * 1.02 : x)) };
    const refused = await draftParts(draftInput(patches, [flats[0], longer], seams), quietRun);
    expect(refused.seams[0].refused).toBe(true);
    expect(refused.seams[0].differenceMm).toBeCloseTo(-4, 6);
    expect(refused.findings.map(({ severity }) => severity)).toContain('severe');
    const eased = await draftParts(
      draftInput(patches, [flats[0], longer], seams, { sides: [sideDraft('left', 'ridge', { easeMm: 4 })] }),
      quietRun,
    );
    expect(eased.seams[0].refused).toBe(false);
    expect(eased.findings).toEqual([]);
  });

  it('moves the notches of an allowance out to the cut line [contract: allowance]', async () => {
    const input = roofInput(0, { notch: 'slit', sides: [sideDraft('left', 'ridge', { allowanceMm: 12 })] });
    const { parts } = await draftParts(input, quietRun);
    expect(parts[0].areaMm2).toBeCloseTo(132 * 200, 6);
    for (const slit of linesOn(parts[0], 'NOTCH')) {
      expect(distanceToPolyline(parts[0].outline, true, slit[0], slit[1])).toBeLessThan(1e-6);
      expect(Math.hypot(slit[2] - slit[0], slit[3] - slit[1])).toBeCloseTo(5, 6);
    }
    expect(parts[0].sides[1].allowanceMm).toBe(12);
    expect(parts[1].areaMm2).toBeCloseTo(120 * 200, 6);
  });

  it('codes a dart whose two legs lie on one part [contract: dart legs count as a seam]', async () => {
    // A sheet whose right and left edges are the legs of one dart.
    const { patch, flat } = gridPatch({
      id: 'dart.1.C',
      columns: 12,
      rows: 12,
      seams: { left: 'S1', right: 'S1' },
      kinds: { left: 'dart', right: 'dart' },
      lines: { left: 'bust', right: 'bust' },
      space: (u, v) => [40 * Math.cos(3 * u) * (1 + v), 40 * Math.sin(3 * u) * (1 + v), 0],
      plane: (u, v) => [40 * Math.cos(3 * u) * (1 + v), 40 * Math.sin(3 * u) * (1 + v)],
    });
    const { parts, seams } = await draftParts(draftInput([patch], [flat], [seamBetween('S1', patch, 1, patch, 3, 'dart')]), quietRun);
    expect(seams[0].kind).toBe('dart');
    expect(seams[0].sides).toEqual(['A2', 'A4']);
    expect(parts[0].notches.length).toBe(2 * seams[0].code.split('-').length);
    const legs = seams[0].sides.map((id) => parts[0].sides.find((side) => side.id === id)?.lengthMm ?? 0);
    expect(legs[0]).toBeCloseTo(legs[1], 9);
  });
});

describe('draftParts: fittings', () => {
  it('changes both mates of a seam from which 8 mm are taken, and no other part [must hold: take in]', async () => {
    const before = await gores.bent;
    const after = await draftParts(goreInput('bent', { sides: [sideDraft('cap', 'meridian-3', { takeInMm: 8 })] }), quietRun);
    const changed = before.parts.filter((part, i) => part.version !== after.parts[i].version).map(({ letter }) => letter);
    expect(changed).toEqual(['C', 'D']);
    before.parts.forEach((part, i) => {
      const other = after.parts[i];
      if (changed.includes(part.letter)) {
        // Half of the 8 mm from each, full at the rim, faded out towards the other gores at the pole.
        expect(boxOf(part.outline).max[0] - boxOf(other.outline).max[0]).toBeCloseTo(4, 1);
      } else expect({ ...other, findings: [] }).toEqual({ ...part, findings: [] });
    });
    const seam = after.seams.find(({ id }) => id === 'S3');
    expect(Math.abs(seam?.differenceMm ?? 9)).toBeLessThan(0.01);
  });

  it('keeps versions from one run to the next, and its bytes [invariant: same input, same bytes]', async () => {
    const [once, again] = [await gores.bent, await draftParts(goreInput('bent'), quietRun)];
    expect(again).toEqual(once);
  });

  it('does not change its input [conventions 8]', async () => {
    const input = goreInput('bent');
    const sums = (): number[] =>
      [...input.patches.map(({ mesh }) => mesh.positions), ...input.flats.map(({ positions }) => positions)].map((list) =>
        list.reduce((a, b) => a + b, 0),
      );
    const before = sums();
    await draftParts(input, quietRun);
    expect(sums()).toEqual(before);
  });
});

describe('draftParts: pairs', () => {
  it('recognises a left and a right part by their outlines, not by their marks alone [contract: pairs]', async () => {
    const hook = (mirror: 1 | -1, longer: number) => (u: number, v: number) =>
      [mirror * (80 * u + 30 * v * v), (120 + longer) * v + 10 * u] as const;
    const part = (side: 'L' | 'R', longer: number) => {
      const mirror = side === 'L' ? 1 : -1;
      return gridPatch({
        id: `arm.1.${side}`,
        pair: `arm.1.${side === 'L' ? 'R' : 'L'}`,
        side,
        columns: 12,
        rows: 12,
        space: (u, v) => [...hook(mirror, longer)(mirror === 1 ? u : 1 - u, v), 0],
        plane: (u, v) => hook(mirror, longer)(mirror === 1 ? u : 1 - u, v),
      });
    };
    const left = part('L', 0);
    for (const longer of [0, 3]) {
      const right = part('R', longer);
      const { parts } = await draftParts(draftInput([left.patch, right.patch], [left.flat, right.flat]), quietRun);
      expect(parts.map(({ letter }) => letter)).toEqual(['A', 'B']);
      expect(parts[1].mirrorOf).toBe(longer === 0 ? 'arm.1.L' : undefined);
      const words = parts[0].drawing.labels.map(({ text }) => text).join(' ');
      expect(words.includes('cut one left, one right')).toBe(longer === 0);
    }
  });
});

describe('draftParts: stopping', () => {
  it('stops at every breath when it is told to [conventions 37]', async () => {
    let breaths = 0;
    const counting = createRun({ now: () => 0, pause: () => Promise.resolve(), isStopped: () => (breaths++, false) });
    await draftParts(roofInput(60), counting);
    expect(breaths).toBeGreaterThan(5);
    for (let stop = 0; stop < breaths; stop += 3) {
      let left = stop;
      const run = createRun({ now: () => 0, pause: () => Promise.resolve(), isStopped: () => left-- <= 0 });
      await expect(draftParts(roofInput(60), run)).rejects.toMatchObject({ code: 'run/stopped' });
    }
  });
});
