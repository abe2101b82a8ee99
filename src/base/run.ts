/*
 * A Run lets long work report, breathe and be stopped. It is made outside `src` (clock and pause differ between Node and a worker);
 * heavy loops call `await run.breathe()`, which does nothing until about 16 ms have passed since the last pause.
 */
import { Failure } from './failure.ts';

/** What long work may ask of its caller. */
export interface Run {
  /** Says how far the stage has come. `fraction` in 0…1. */
  readonly report: (stage: string, fraction: number) => void;
  /** Lets messages in when it is time; throws `run/stopped` once the run is cancelled. */
  readonly breathe: () => Promise<void>;
  /** The same check without a pause, for loops that cannot await. */
  readonly checkStopped: () => void;
}

/** What a platform gives to make a Run. Times in milliseconds. */
export interface RunPlatform {
  readonly now: () => number;
  readonly pause: () => Promise<void>;
  readonly onReport?: (stage: string, fraction: number) => void;
  readonly isStopped?: () => boolean;
  /** Time between pauses, ms; default 16. */
  readonly sliceMs?: number;
}

/**
 * Makes a Run for one piece of work.
 * @throws run/stopped from `breathe` and `checkStopped` after the platform says so; sticky.
 */
export function createRun(platform: RunPlatform): Run {
  const slice = platform.sliceMs ?? 16;
  let last = platform.now();
  let stopped = false;
  const checkStopped = (): void => {
    stopped ||= platform.isStopped?.() ?? false;
    if (stopped) throw new Failure('run/stopped', 'The work was stopped.', {}, 'Start it again when you are ready; nothing was lost.');
  };
  return {
    report: (stage, fraction) => platform.onReport?.(stage, fraction),
    checkStopped,
    breathe: async () => {
      checkStopped();
      if (platform.now() - last < slice) return;
      await platform.pause();
      last = platform.now();
      checkStopped();
    },
  };
}

/** A Run that reports to nobody and never stops: for tests and for work too short to report. */
export const quietRun: Run = { report: () => undefined, breathe: () => Promise.resolve(), checkStopped: () => undefined };
