/*
 * No job on the bench: what to do first.
 */
import type { JSX } from 'preact';
import { acceptedFiles, chooseFile, openFile, openSample } from '../desk.ts';
import { Card } from '../fields/fields.tsx';
import { dialog } from '../state.ts';

export function EmptyPanel(): JSX.Element {
  return (
    <Card title="Put a body on the bench">
      <p>A scan or a modelled form: OBJ, glTF or GLB, PLY, STL. Drop the file anywhere, or:</p>
      <div class="column">
        <button type="button" class="act" onClick={() => void chooseFile(acceptedFiles).then((file) => file && openFile(file))}>
          Open a scan …
        </button>
        <button type="button" onClick={() => void openSample()}>
          Open the sample job
        </button>
        <button type="button" onClick={() => (dialog.value = 'jobs')}>
          Jobs kept here …
        </button>
      </div>
    </Card>
  );
}
