/*
 * Undo, redo, and what can be done with what is selected.
 */
import { act, redoStep, undoStep } from '../desk.ts';
import { history, job, selection } from '../state.ts';
import type { Act } from './act.ts';

export function removeSelected(): void {
  const chosen = selection.value;
  if (!chosen) return;
  if (chosen.kind === 'line') act({ kind: 'remove-line', args: { id: chosen.id } });
  else if (chosen.kind === 'measure') act({ kind: 'remove-measure', args: { index: chosen.index } });
  else return;
  selection.value = undefined;
}

export const editActs: readonly Act[] = [
  {
    id: 'undo',
    title: 'Undo',
    group: 'Edit',
    keys: 'Ctrl+Z',
    words: 'back',
    isReady: () => (history.value?.past.length ?? 0) > 0,
    run: undoStep,
  },
  {
    id: 'redo',
    title: 'Redo',
    group: 'Edit',
    keys: 'Ctrl+Shift+Z',
    words: 'forward again',
    isReady: () => (history.value?.future.length ?? 0) > 0,
    run: redoStep,
  },
  {
    id: 'redo-y',
    title: 'Redo (the other key)',
    group: 'Edit',
    keys: 'Ctrl+Y',
    isReady: () => (history.value?.future.length ?? 0) > 0,
    run: redoStep,
  },
  {
    id: 'remove',
    title: 'Remove what is chosen',
    group: 'Edit',
    keys: 'Delete',
    words: 'delete line measure',
    isReady: () => selection.value?.kind === 'line' || selection.value?.kind === 'measure',
    run: removeSelected,
  },
  {
    id: 'mirror',
    title: 'Mirror the marks',
    group: 'Edit',
    keys: 'Shift+M',
    words: 'symmetry halves switch',
    isReady: () => job.value !== undefined,
    isOn: () => job.value?.marks.mirrored === true,
    run: () => act({ kind: 'set-mirrored', args: { mirrored: job.value?.marks.mirrored !== true } }),
  },
];
