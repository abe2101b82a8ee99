import { expect, it } from 'vitest';
import { dxfSewn } from '../../src/export/dxf-sewn.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { handInput, handOptions } from '../support/drawings.ts';
import { apartMm, areaOf, askScript, describeWithJudges, inScratch, pairs, putFile, type JudgedPath } from '../support/judges.ts';

interface JudgedBlock {
  readonly paths: readonly (JudgedPath & { readonly type: string })[];
  readonly texts: readonly { readonly text: string; readonly layer: string }[];
  readonly points: readonly { readonly layer: string; readonly at: readonly [number, number] }[];
}

const input = handInput();
const [file] = await dxfSewn.write(input, handOptions);

describeWithJudges('Sewn-product DXF before ezdxf', ['python:ezdxf'], () => {
  const judged = inScratch((folder) =>
    askScript<
      JudgedBlock & {
        readonly errors: readonly string[];
        readonly fixes: readonly string[];
        readonly blocks: Readonly<Record<string, JudgedBlock>>;
      }
    >('dxf_paths.py', [putFile(folder, 'sewn.dxf', file.bytes)]),
  );
  it('passes the audit and holds one block and one insert a piece [ezdxf audit]', () => {
    expect(judged.errors).toEqual([]);
    // ezdxf 0.18 says this of its own R12 blocks too: the release has no owners.
    expect(judged.fixes.filter((said) => !/^Deleted SEQEND\(#\w+\) entity with invalid owner handle #None\.$/.test(said))).toEqual([]);
    expect(Object.keys(judged.blocks).sort()).toEqual(['BREAST_1_L', 'BREAST_1_R', 'SQUARE_1_C']);
    expect(judged.points.length).toBe(3);
  });
  it('has the boundary on 1 and the cut-out on 11 within 0.01 mm, closed, not mirrored [ezdxf]', () => {
    for (const [layer, ours] of [
      ['1', 'CUT'],
      ['11', 'CUT_INSIDE'],
    ] as const) {
      const [path] = input.parts[0].drawing.paths.filter((entry) => entry.layer === ours);
      const points = pairs(flattenCurve(path.curve, 0.0005), true);
      const [read] = judged.blocks.BREAST_1_L.paths.filter((entry) => entry.layer === layer);
      expect(apartMm(points, read.points)).toBeLessThan(0.01);
      expect(read.closed).toBe(true);
      expect(Math.sign(areaOf(read.points))).toBe(Math.sign(areaOf(points)));
      expect(read.part).toBe('breast.1.L');
    }
  });
  it('marks the four corners of a square as turn points, and every other outline point of a leaf as a curve point [astm-d6673]', () => {
    const { points } = judged.blocks.SQUARE_1_C;
    expect(
      points
        .filter(({ layer }) => layer === '2')
        .map(({ at }) => at)
        .sort(),
    ).toEqual([
      [0, 0],
      [0, 100],
      [100, 0],
      [100, 100],
    ]);
    const leaf = judged.blocks.BREAST_1_L;
    const [boundary] = leaf.paths.filter(({ layer }) => layer === '1');
    expect(leaf.points.filter(({ layer }) => layer === '2' || layer === '3').length).toBe(boundary.points.length - 1);
    expect(leaf.points.filter(({ layer }) => layer === '2').length).toBe(4);
  });
  it('has its notch on the boundary and its grain line along the up arrow [ezdxf]', () => {
    const leaf = judged.blocks.BREAST_1_L;
    const [boundary] = leaf.paths.filter(({ layer }) => layer === '1');
    const [notch] = leaf.points.filter(({ layer }) => layer === '4');
    expect(apartMm([notch.at, notch.at], boundary.points)).toBeGreaterThan(1);
    expect(Math.hypot(notch.at[0] - 172.5, notch.at[1] - 65)).toBeLessThan(0.2);
    const [grain] = leaf.paths.filter(({ layer }) => layer === '7');
    expect(grain.points).toEqual([
      [40, 90],
      [40, 115],
    ]);
  });
});
