/*
 * When a job cannot be kept, or another window kept it meanwhile: said plainly, with what can be done.
 */
import type { JSX } from 'preact';
import { flushJob, openFromStore, saveAsNewJob } from '../desk.ts';
import { Icon } from '../fields/icons.tsx';
import { kept, openJob } from '../state.ts';

export function SavingBanner(): JSX.Element | null {
  const state = kept.value;
  const open = openJob.value;
  if (!open) return null;
  if (state.kind === 'conflict')
    return (
      <div class="banner severe" role="alert">
        <Icon name="severe" />
        <p>
          {state.account.what} Nothing was overwritten. <span class="mend">{state.account.mend}</span>
        </p>
        <button type="button" onClick={() => void openFromStore(open.id)}>
          Take its version
        </button>
        <button type="button" onClick={() => void saveAsNewJob()}>
          Keep mine as a new job
        </button>
      </div>
    );
  if (state.kind === 'trouble')
    return (
      <div class="banner warning" role="alert">
        <Icon name="warning" />
        <p>
          {state.account.what} <span class="mend">{state.account.mend}</span>
        </p>
        <button type="button" onClick={() => void flushJob()}>
          Try now
        </button>
      </div>
    );
  return null;
}
