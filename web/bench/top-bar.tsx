/*
 * Name of the job and how it is kept, menus, undo and redo with their list, and the finder of acts.
 */
import { useEffect, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import { actOf, runAct } from '../acts/index.ts';
import { showKeys } from '../acts/keys.ts';
import { act } from '../desk.ts';
import { Icon } from '../fields/icons.tsx';
import type { IconName } from '../fields/icons.tsx';
import { job, kept, openJob, savedAt, station } from '../state.ts';
import { HistoryList } from './history-list.tsx';
import { Menu } from './menu.tsx';

export function TopBar(): JSX.Element {
  return (
    <header class="top-bar">
      <span class="mark" aria-hidden="true">
        <svg viewBox="0 0 32 32">
          <path d="M7 6c3 1.500 5 1.500 6 0 1 2 5 2 6 0 1 1.500 3 1.500 6 0 .5 4-.5 6-.5 9 0 6-4 9-8.500 11.500C11.500 24 7.500 21 7.500 15 7.500 12 6.500 10 7 6z" />
          <path d="M16 8v18M9 14c3 1.600 11 1.600 14 0" />
        </svg>
      </span>
      <h1 class="wordmark">Plastron</h1>
      <nav aria-label="Menus" class="menus">
        <Menu title="Job" groups={['Job']} />
        <Menu title="Edit" groups={['Edit', 'Draw']} />
        <Menu title="Look" groups={['Go to', 'Look']} />
        <Menu title="Help" groups={['Help']} />
      </nav>
      <JobName />
      <span class="gap" />
      <ActButton id="undo" icon="undo" />
      <ActButton id="redo" icon="redo" />
      <HistoryList />
      <button type="button" class="finder" onClick={() => runNamed('palette')}>
        <Icon name="search" /> Find an act <kbd aria-hidden="true">{showKeys('Ctrl+K')}</kbd>
      </button>
      <button type="button" class="act" disabled={openJob.value === undefined} onClick={() => (station.value = 'print')}>
        Print and cut
      </button>
    </header>
  );
}

function runNamed(id: string): void {
  const found = actOf(id);
  if (found) runAct(found);
}

function ActButton({ id, icon }: { readonly id: string; readonly icon: IconName }): JSX.Element {
  const found = actOf(id);
  const keys = found?.keys === undefined ? '' : showKeys(found.keys);
  return (
    <button type="button" disabled={found?.isReady?.() === false} title={`${found?.title ?? id} (${keys})`} onClick={() => runNamed(id)}>
      <Icon name={icon} /> {found?.title}
    </button>
  );
}

function JobName(): JSX.Element | null {
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const open = job.value;
  if (!open) return null;
  const take = (): void => {
    if (draft !== undefined && draft.trim() !== '' && draft !== open.name) act({ kind: 'rename-job', args: { name: draft.trim() } });
    setDraft(undefined);
  };
  return (
    <span class="job-name">
      <input
        aria-label="Name of the job"
        value={draft ?? open.name}
        size={Math.max(8, (draft ?? open.name).length)}
        maxLength={80}
        onInput={(event) => setDraft(event.currentTarget.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter' || event.key === 'Escape') {
            if (event.key === 'Escape') setDraft(undefined);
            event.currentTarget.blur();
          }
        }}
      />
      <SavedWords />
    </span>
  );
}

function SavedWords(): JSX.Element {
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => tick((n) => n + 1), 15_000);
    return () => clearInterval(timer);
  }, []);
  const state = kept.value;
  const words: Readonly<Record<typeof state.kind, string>> = {
    saved: `kept on this machine${agoWords(savedAt.value)}`,
    changed: 'changed, about to be kept …',
    saving: 'keeping …',
    trouble: 'not kept yet',
    conflict: 'another window has it',
  };
  return (
    <small class={`saved ${state.kind}`} role="status">
      {words[state.kind]}
    </small>
  );
}

function agoWords(at: number | undefined): string {
  if (at === undefined) return '';
  const minutes = Math.floor((Date.now() - at) / 60_000);
  if (minutes < 1) return '';
  return minutes === 1 ? ', a minute ago' : `, ${minutes} minutes ago`;
}
