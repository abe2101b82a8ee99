/*
 * A Run for the terminal: progress on standard error, stopped by Ctrl+C.
 */
import { setImmediate } from 'node:timers/promises';
import type { Run } from '../../src/base/run.ts';
import { createRun } from '../../src/base/run.ts';

/** @param isTalking whether progress may be shown (only on a terminal in any case) */
export function createTerminalRun(isTalking: boolean): Run {
  let stopped = false;
  let shown = '';
  process.once('SIGINT', () => {
    stopped = true;
  });
  const isShowing = isTalking && process.stderr.isTTY;
  const clear = (): void => {
    if (shown !== '') process.stderr.write('\r\u001b[K');
    shown = '';
  };
  process.once('exit', clear);
  return createRun({
    now: () => performance.now(),
    pause: () => setImmediate(),
    isStopped: () => stopped,
    onReport: (stage, fraction) => {
      if (!isShowing) return;
      const line = `${stage} ${Math.round(100 * fraction)} %`;
      if (line === shown) return;
      clear();
      process.stderr.write(line);
      shown = line;
    },
  });
}
