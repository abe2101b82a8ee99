/*
 * The foot: the body in numbers, findings, and what is being worked out, with its stop.
 */
import type { JSX } from 'preact';
import { engine } from '../desk.ts';
import { body, files, findings, flats, cut, openJob, progress, stages } from '../state.ts';
import { stations } from '../stations.ts';
import { FindingsList } from './findings-list.tsx';

const stageWords: Readonly<Record<string, string>> = {
  body: 'Reading the body',
  read: 'Reading the scan',
  clearance: 'Clearing the skin',
  draw: 'Cutting along the marks',
  'lay-flat': 'Laying flat',
  draft: 'Drafting',
  sheets: 'Laying on sheets',
  files: 'Writing files',
};

export function Foot(): JSX.Element {
  const mesh = body.value?.mesh;
  const isHalted =
    openJob.value !== undefined &&
    !progress.value &&
    Object.values(stages.value).some(({ status }) => status === 'empty') &&
    !Object.values(stages.value).some(({ status }) => status === 'failed');
  return (
    <footer class="foot">
      {mesh && (
        <span>
          {(mesh.faces.length / 3).toLocaleString('en')} faces · read in {body.value?.unit}
          {body.value && body.value.scale !== 1 ? ` · scale ×${body.value.scale.toFixed(4)}` : ''}
        </span>
      )}
      {cut.value && <span>{partWords(cut.value.patches.length, flats.value?.length)}</span>}
      <FindingsList />
      <span class="gap" />
      {isHalted && (
        <>
          <span>Stopped; what is shown may be old.</span>
          <button type="button" onClick={() => engine.run()}>
            Go on
          </button>
        </>
      )}
      <Working />
      {!progress.value && files.value && <span>{files.value.length} files made</span>}
      {!openJob.value && <span>Nothing leaves this machine.</span>}
      <span class="unseen" role="status">
        {progress.value ? 'Working' : findings.value.length > 0 ? `${findings.value.length} findings` : ''}
      </span>
    </footer>
  );
}

function partWords(patches: number, laid: number | undefined): string {
  if (patches === 0) return 'no parts yet';
  const parts = patches === 1 ? '1 part' : `${patches} parts`;
  return laid !== undefined && laid < patches ? `${parts}, ${laid} lie flat` : parts;
}

function Working(): JSX.Element | null {
  const now = progress.value;
  if (!now) return null;
  const at = stations.findIndex(({ stage }) => stage === now.stage);
  const words = stageWords[now.stage] ?? now.stage;
  return (
    <span class="working">
      <span>
        {words}
        {at >= 0 ? ` · station ${at + 1} of 6` : ''}
      </span>
      <progress max={1} value={Math.min(1, Math.max(0, now.fraction))} aria-label={words} />
      <button type="button" onClick={() => engine.stop()}>
        Stop
      </button>
    </span>
  );
}
