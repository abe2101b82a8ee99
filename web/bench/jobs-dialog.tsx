/*
 * All jobs kept on this machine, newest first.
 */
import { useEffect, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import { acceptedFiles, chooseFile, closeJob, openFile, openFromStore, store } from '../desk.ts';
import { Icon } from '../fields/icons.tsx';
import { openJob } from '../state.ts';
import type { JobSummary } from '../store.ts';
import { say, sayFailure } from '../toast.ts';
import { showWhen } from './when.ts';

export function JobsDialog(): JSX.Element {
  const [jobs, setJobs] = useState<readonly JobSummary[] | undefined>(undefined);
  const load = (): void => void store.list().then(setJobs, sayFailure);
  useEffect(load, []);

  async function remove(summary: JobSummary): Promise<void> {
    try {
      if (openJob.value?.id === summary.id) await closeJob();
      await store.remove(summary.id);
      say('note', `“${summary.name}” is in the bin.`, 'It lies in the folder .bin of the jobs folder until you empty it.');
      load();
    } catch (error) {
      sayFailure(error);
    }
  }

  return (
    <>
      {jobs?.length === 0 && <p>No jobs yet. Open a scan, or drop one anywhere.</p>}
      <ul class="job-list">
        {jobs?.map((summary) => (
          <li key={summary.id} aria-current={openJob.value?.id === summary.id}>
            <button type="button" class="quiet wide" onClick={() => void openFromStore(summary.id)}>
              <strong>{summary.name}</strong>
              <small>kept {showWhen(summary.savedAt)}</small>
            </button>
            <button
              type="button"
              class="quiet"
              aria-label={`Put ${summary.name} into the bin`}
              title="Into the bin"
              onClick={() => void remove(summary)}
            >
              <Icon name="bin" />
            </button>
          </li>
        ))}
      </ul>
      <div class="row end">
        <button type="button" class="act" onClick={() => void chooseFile(acceptedFiles).then((file) => file && openFile(file))}>
          Open a scan or a .plastron file …
        </button>
      </div>
    </>
  );
}
