/*
 * Layouts of the literature's instances before an exact judge. Tests fix the steps; `bench -- nest` fixes the seconds.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { benchNest } from '../bench/nest.ts';
import { askScript, describeWithJudges, inScratch, putFile } from '../support/judges.ts';
import { root } from '../support/sources.ts';

/** Best known densities [ESICUP instances, densities recomputed in the design]. */
const best = { albano: 0.89821, blaz1: 0.86224, jakobs1: 0.89247, mao: 0.86867, shapes1: 0.76719 } as const;
const folder = join(root, '../shared/data/nesting');

describeWithJudges('strip layouts before shapely', ['python:shapely'], () => {
  if (!existsSync(folder)) console.log('left out: the nesting instances are not beside the project');
  for (const [name, density] of Object.entries(best)) {
    it.skipIf(!existsSync(folder))(
      `${name}: complete, inside the strip, no overlap, within 12 points of the best known after few steps [shapely, ESICUP ${name}]`,
      async () => {
        const path = join(folder, `${name}.json`);
        const run = await benchNest(path, { steps: 3000, seed: 1 });
        const judged = inScratch((scratch) =>
          askScript<{ overlap: number; excess: number; complete: boolean; density: number }>('nest_judge.py', [
            path,
            putFile(scratch, 'run.json', JSON.stringify(run)),
          ]),
        );
        expect(judged.complete).toBe(true);
        // Shares of the strip's height: rounding only.
        expect(judged.overlap).toBeLessThan(1e-6);
        expect(judged.excess).toBeLessThan(1e-9);
        expect(judged.density).toBeCloseTo(run.density, 9);
        expect(judged.density).toBeGreaterThan(density - 0.12);
        expect(judged.density).toBeLessThan(density);
      },
    );
  }
});
