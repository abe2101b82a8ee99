/*
 * Asking where a further seam would help, and taking a proposal.
 */
import { act, engine } from './desk.ts';
import { signal } from '@preact/signals';
import { Failure } from '../src/base/failure.ts';
import { job, selection, suggestion } from './state.ts';
import { say, sayFailure } from './toast.ts';
import { freeId } from './tools/names.ts';

/** False once the worker has said that it proposes no cuts. */
export const canSuggest = signal(true);

export async function askSuggestion(part: string): Promise<void> {
  suggestion.value = 'looking';
  try {
    const { proposals } = await engine.ask({ kind: 'suggest', part });
    suggestion.value = proposals.length === 0 ? undefined : { part, proposals, index: 0 };
    if (proposals.length === 0) say('note', 'No cut of this part would help more than a little.', 'Try another method, or warm the foam.');
  } catch (error) {
    suggestion.value = undefined;
    // Said in the panel itself, beside what can be done instead.
    if (error instanceof Failure && error.code === 'suggest/not-built') canSuggest.value = false;
    else sayFailure(error);
  }
}

export function nextProposal(): void {
  const now = suggestion.value;
  if (now === undefined || now === 'looking') return;
  suggestion.value = { ...now, index: (now.index + 1) % now.proposals.length };
}

/** The proposed cut becomes a line of the job: one undo step. */
export function takeProposal(): void {
  const now = suggestion.value;
  if (now === undefined || now === 'looking') return;
  const { line } = now.proposals[now.index];
  const lines = job.value?.marks.lines ?? [];
  const id = lines.some((known) => known.id === line.id) ? freeId(line.kind, lines) : line.id;
  if (act({ kind: 'add-lines', args: { lines: [{ ...line, id }] } })) selection.value = { kind: 'line', id };
}
