/*
 * A scan was dropped while a job is open: what is it for?
 */
import type { JSX } from 'preact';
import { openFile, replaceBody } from '../desk.ts';
import { dialog, droppedFile, job } from '../state.ts';

export function DropDialog(): JSX.Element {
  const file = droppedFile.value;
  const end = (then: ((file: File) => Promise<void>) | undefined): void => {
    dialog.value = undefined;
    droppedFile.value = undefined;
    if (file && then) void then(file);
  };
  return (
    <>
      <p>
        What is <strong>{file?.name}</strong> for?
      </p>
      <div class="column">
        <button type="button" class="act" autofocus onClick={() => end(openFile)}>
          A new job
        </button>
        <button type="button" onClick={() => end(replaceBody)}>
          A better scan for “{job.value?.name}”: the marks are carried over
        </button>
        <button type="button" onClick={() => end(undefined)}>
          Neither
        </button>
      </div>
    </>
  );
}
