import { describe, expect, it } from 'vitest';
import { createRun, quietRun } from '../../src/base/run.ts';
import { warmUp } from '../../src/flatten/warm-up.ts';

describe('warmUp', () => {
  it('ends by itself, and stops when it is told [injected failure]', async () => {
    await expect(warmUp(quietRun)).resolves.toBeUndefined();
    const stopped = createRun({ now: () => 0, pause: () => Promise.resolve(), isStopped: () => true });
    await expect(warmUp(stopped)).rejects.toMatchObject({ code: 'run/stopped' });
  });
});
