/*
 * The first visit: what to do first, and three ways to begin.
 */
import { useEffect, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import { acceptedFiles, chooseFile, openFile, openFromStore, openSample, store } from '../desk.ts';
import { dialog } from '../state.ts';
import type { JobSummary } from '../store.ts';
import { showWhen } from './when.ts';

export function Welcome(): JSX.Element {
  const [jobs, setJobs] = useState<readonly JobSummary[]>([]);
  useEffect(() => {
    store.list().then(setJobs, () => undefined);
  }, []);
  return (
    <>
      <p class="lead">
        Plastron turns a body into flat parts. Paint where the armour goes, draw where the seams run, and take files that a printer, a knife
        or a laser can use.
      </p>
      <div class="ways">
        <button type="button" class="way" autofocus onClick={() => void openSample('lay-flat')}>
          <strong>Try the sample job</strong>
          <span>
            A breastplate, collar and shoulder cap from our own play “The Tide Wardens”: everything is filled in, change what you like.
          </span>
        </button>
        <button type="button" class="way" onClick={() => void chooseFile(acceptedFiles).then((file) => file && openFile(file))}>
          <strong>Open your scan</strong>
          <span>OBJ, glTF or GLB, PLY, STL: a scan or a modelled form. Or drop a file anywhere on this page.</span>
        </button>
        <button type="button" class="way" onClick={() => (dialog.value = undefined)}>
          <strong>An empty bench</strong>
          <span>Look around first.</span>
        </button>
      </div>
      {jobs.length > 0 && (
        <section>
          <h3>Go on with</h3>
          <ul class="job-list">
            {jobs.slice(0, 5).map((summary) => (
              <li key={summary.id}>
                <button type="button" class="quiet wide" onClick={() => void openFromStore(summary.id)}>
                  <strong>{summary.name}</strong> <small>kept {showWhen(summary.savedAt)}</small>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <p class="small">A body scan is private: everything is worked out and kept on this machine.</p>
    </>
  );
}
