/*
 * Seconds a stage, by a clock that the caller lends; without one all are 0, so that results stay the same bits on every run.
 */
import type { StageSeconds } from './flatten-method.ts';

type Stage = Exclude<keyof StageSeconds, 'total'>;

export interface Stopwatch {
  /** Adds the time since the last lap to a stage. */
  readonly lap: (stage: Stage) => void;
  readonly seconds: () => StageSeconds;
}

/** @param clock seconds, from any origin */
export function createStopwatch(clock: (() => number) | undefined): Stopwatch {
  const spent: Record<Stage, number> = { assemble: 0, order: 0, factor: 0, solve: 0, refine: 0 };
  const now = clock ?? (() => 0);
  const start = now();
  let last = start;
  return {
    lap: (stage) => {
      const time = now();
      spent[stage] += time - last;
      last = time;
    },
    seconds: () => ({ ...spent, total: last - start }),
  };
}
