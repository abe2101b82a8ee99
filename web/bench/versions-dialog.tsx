/*
 * Earlier saves of the job; going back to one is itself a new save, so nothing is lost by trying.
 */
import { useEffect, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import { flushJob, openFromStore, store } from '../desk.ts';
import { dialog, openJob } from '../state.ts';
import type { VersionSummary } from '../store.ts';
import { say, sayFailure } from '../toast.ts';
import { showWhen } from './when.ts';

export function VersionsDialog(): JSX.Element {
  const [versions, setVersions] = useState<readonly VersionSummary[] | undefined>(undefined);
  const id = openJob.value?.id;
  useEffect(() => {
    if (id === undefined) return;
    flushJob()
      .then(() => store.versions(id))
      .then(setVersions, sayFailure);
  }, [id]);

  async function restore(revision: number): Promise<void> {
    if (id === undefined) return;
    try {
      await flushJob();
      await store.restore(id, revision);
      await openFromStore(id);
      dialog.value = undefined;
      say('note', `Back at version ${revision}. The state before is kept as a version too.`);
    } catch (error) {
      sayFailure(error);
    }
  }

  return (
    <>
      <p>The last saves of this job. Going back keeps what you have now as a version.</p>
      <ol class="job-list">
        {versions?.map(({ revision, savedAt }, i) => (
          <li key={revision}>
            <span class="wide">
              Version {revision} <small>{showWhen(savedAt)}</small>
            </span>
            {i === 0 ? (
              <small>now</small>
            ) : (
              <button type="button" onClick={() => void restore(revision)}>
                Go back to this
              </button>
            )}
          </li>
        ))}
      </ol>
    </>
  );
}
