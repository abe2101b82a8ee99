/*
 * Long work as generators: each yields where it may rest, so one body serves callers that wait and callers that breathe.
 */
import type { Run } from '../base/run.ts';

/** Runs a generator to its end without a rest. */
export function finish<T>(steps: Generator<void, T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/**
 * Runs a generator to its end and breathes at each rest.
 * @throws run/stopped
 */
export async function finishBreathing<T>(steps: Generator<void, T>, run: Run): Promise<T> {
  run.checkStopped();
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    await run.breathe();
  }
}
