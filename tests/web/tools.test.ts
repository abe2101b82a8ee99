import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { latestOnly } from '../../web/tools/latest.ts';
import { segmentOf } from '../../web/tools/segment-of.ts';
import { freeAreaName, freeId } from '../../web/tools/names.ts';
import { rounded } from '../../web/tools/tool.ts';

describe('freeId', () => {
  it('never repeats an id and never needs more than one number past the list [invariant]', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 12 })), (numbers) => {
        const taken = numbers.map((n) => ({ id: `seam-${n}` }));
        const id = freeId('Seam', taken);
        expect(taken.map((item) => item.id)).not.toContain(id);
        expect(Number(id.slice(5))).toBeLessThanOrEqual(taken.length + 1);
      }),
    );
  });

  it('makes plain words of any name [invariant]', () => {
    expect(freeId('Ärmel, außen', [])).toMatch(/^[a-z0-9-]+-1$/);
    expect(freeId('…', [])).toBe('mark-1');
    expect(freeAreaName([{ name: 'Area 1' }, { name: 'Area 3' }])).toBe('Area 2');
  });
});

describe('latestOnly', () => {
  it('asks one at a time, of those that wait only the newest, and tells no answer after it was told to forget [invariant]', async () => {
    const open: ((answer: string) => void)[] = [];
    const heard: string[] = [];
    const questions: number[] = [];
    const latest = latestOnly(
      (question: number) => {
        questions.push(question);
        return new Promise<string>((resolve) => open.push(resolve));
      },
      (answer) => heard.push(answer),
    );
    for (const question of [1, 2, 3, 4]) latest.ask(question);
    expect(questions).toEqual([1]);
    open[0]('one');
    await new Promise((resolve) => setTimeout(resolve));
    expect(questions).toEqual([1, 4]);
    latest.forget();
    open[1]('four');
    await new Promise((resolve) => setTimeout(resolve));
    expect(heard).toEqual(['one']);
  });

  it('goes on after an answer that could not be given [invariant]', async () => {
    const heard: number[] = [];
    const latest = latestOnly(
      (question: number) => (question === 1 ? Promise.reject(new Error('no path')) : Promise.resolve(question)),
      (answer) => heard.push(answer),
    );
    latest.ask(1);
    latest.ask(2);
    await new Promise((resolve) => setTimeout(resolve));
    expect(heard).toEqual([2]);
  });
});

describe('segmentOf', () => {
  it('puts a new point between the two points around the place that was clicked [closed form]', () => {
    // A straight path along x with a node every millimetre, and points of the line at 0, 4 and 10.
    const path = Float64Array.from({ length: 33 }, (_, i) => (i % 3 === 0 ? i / 3 : 0));
    const line = {
      points: [
        [0, 0, 0],
        [4, 0, 0],
        [10, 0, 0],
      ] as const,
    };
    expect([1, 3, 5, 9].map((node) => segmentOf(line, path, node))).toEqual([1, 1, 2, 2]);
  });

  it('takes the closing stretch of a ring for the one after the last point [closed form]', () => {
    // Out along x to 4 and back: the ring closes from node 6 on.
    const xs = [0, 1, 2, 3, 4, 4, 4, 3, 2, 1];
    const ys = [0, 0, 0, 0, 0, 1, 2, 2, 2, 1];
    const path = Float64Array.from(xs.flatMap((x, i) => [x, ys[i], 0]));
    const line = {
      points: [
        [0, 0, 0],
        [4, 0, 0],
        [4, 2, 0],
      ] as const,
    };
    expect([2, 5, 8].map((node) => segmentOf(line, path, node))).toEqual([1, 2, 3]);
  });
});

describe('rounded', () => {
  it('keeps a point within a hundredth of a millimetre [closed form]', () => {
    fc.assert(
      fc.property(fc.tuple(fc.float({ noNaN: true, min: -2000, max: 2000 }), fc.constant(0), fc.constant(1)), (p) => {
        expect(Math.abs(rounded(p)[0] - p[0])).toBeLessThanOrEqual(0.005 + 1e-9);
      }),
    );
  });
});
