/*
 * What lies on the desk: opening, making and closing jobs, and the wiring of engine and keeper. Everything that changes the job goes
 * through `act`, `undoStep` and `redoStep`, so that worker, journal and history hear of it alike.
 */
import { batch } from '@preact/signals';
import type { Command } from '../src/job/commands/index.ts';
import { createClient } from '../worker/client.ts';
import type { WorkerLike } from '../worker/client.ts';
import type { Engine } from './engine.ts';
import { createEngine } from './engine.ts';
import type { Keeper } from './keeper.ts';
import { createKeeper } from './keeper.ts';
import {
  activeArea,
  dialog,
  history,
  hoverSeam,
  hoverSpot,
  job,
  kept,
  openFindings,
  openJob,
  pointed,
  savedAt,
  selection,
  station,
  strainBand,
  suggestion,
} from './state.ts';
import type { Store } from './store.ts';
import { createStore } from './store.ts';
import { sayAccount, sayFailure } from './toast.ts';

const token = new URLSearchParams(location.search).get('token') ?? undefined;

export const store: Store = createStore(token);

// The DOM types a worker's messages as `any`; ours are Tells.
const makeWorker = (): WorkerLike =>
  new Worker(new URL('../worker/browser.ts', import.meta.url), { type: 'module', name: 'plastron' }) as unknown as WorkerLike;

export const engine: Engine = createEngine(createClient(makeWorker, sayAccount), sayAccount);

let keeper: Keeper | undefined;

/** Performs a command: one undo step. What it refuses is said, and nothing has changed. */
export function act(command: Command): boolean {
  try {
    engine.perform(command);
  } catch (error) {
    sayFailure(error);
    return false;
  }
  suggestion.value = undefined;
  keeper?.note(command);
  return true;
}

export function undoStep(): void {
  if (!history.value || history.value.past.length === 0) return;
  engine.undo();
  keeper?.noteStep();
}

export function redoStep(): void {
  if (!history.value || history.value.future.length === 0) return;
  engine.redo();
  keeper?.noteStep();
}

/** Goes to an entry of the history list. @param steps how many to take back; negative: forward */
export function goToStep(steps: number): void {
  engine.goBack(steps);
  keeper?.noteStep();
}

function forgetView(): void {
  batch(() => {
    selection.value = undefined;
    activeArea.value = undefined;
    hoverSpot.value = undefined;
    hoverSeam.value = undefined;
    pointed.value = undefined;
    strainBand.value = undefined;
    suggestion.value = undefined;
  });
}

/** Opens a job of the store. */
export async function openFromStore(id: string, at?: typeof station.value): Promise<void> {
  try {
    await keeper?.flush();
    const stored = await store.open(id);
    const bytes = await store.body(id);
    keeper?.dispose();
    forgetView();
    batch(() => {
      openJob.value = { id, file: { name: stored.job.body.file, bytes } };
      openFindings.value = stored.findings;
      savedAt.value = Date.now();
      dialog.value = undefined;
      engine.open(stored.job, { name: stored.job.body.file, bytes });
      activeArea.value = stored.job.marks.areas[0]?.id;
      if (at) station.value = at;
    });
    const opened = stored.job;
    keeper = createKeeper({
      store,
      id,
      revision: stored.revision,
      readJob: () => job.peek() ?? opened,
      onState: (state) => {
        kept.value = state;
        if (state.kind === 'saved') savedAt.value = Date.now();
      },
    });
    kept.value = { kind: 'saved' };
    location.hash = `job=${id}`;
  } catch (error) {
    sayFailure(error);
    if (!openJob.value) dialog.value = 'welcome';
  }
}

export async function openSample(at?: typeof station.value): Promise<void> {
  try {
    await openFromStore(await store.sample(), at);
  } catch (error) {
    sayFailure(error);
  }
}

const meshEndings = ['.obj', '.glb', '.gltf', '.ply', '.stl'];
export const acceptedFiles = [...meshEndings, '.plastron'].join(',');

/** A new job from a scan, or the job in a `.plastron` file. */
export async function openFile(file: File): Promise<void> {
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const name = file.name.replace(/\.[^.]+$/, '');
    const isBundle = file.name.toLowerCase().endsWith('.plastron');
    const id = isBundle ? await store.addBundle(bytes) : await store.create(name, file.name, bytes);
    await openFromStore(id, 'body');
  } catch (error) {
    sayFailure(error);
  }
}

/** Another scan under the same marks: the job's points are carried to it. */
export async function replaceBody(file: File): Promise<void> {
  const open = openJob.value;
  if (!open || !history.value) return;
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const stored = await store.putBody(open.id, file.name, bytes);
    act({ kind: 'set-body', args: { change: { file: stored.file, sha256: stored.sha256 } } });
    await keeper?.flush();
    await openFromStore(open.id);
  } catch (error) {
    sayFailure(error);
  }
}

/** After another window saved: this window's state becomes a job of its own. */
export async function saveAsNewJob(): Promise<void> {
  const open = openJob.value;
  const mine = job.value;
  if (!open || !mine) return;
  try {
    const id = await store.create(`${mine.name} (other window)`, open.file.name, open.file.bytes);
    const fresh = await store.open(id);
    const { file, sha256 } = fresh.job.body;
    const body = { ...mine.body, file, ...(sha256 === undefined ? {} : { sha256 }) };
    await store.save(id, { ...mine, name: fresh.job.name, body }, fresh.revision);
    await openFromStore(id);
  } catch (error) {
    sayFailure(error);
  }
}

export async function closeJob(): Promise<void> {
  await keeper?.flush();
  keeper?.dispose();
  keeper = undefined;
  engine.close();
  forgetView();
  openJob.value = undefined;
  openFindings.value = [];
  location.hash = '';
}

export const flushJob = (): Promise<void> => keeper?.flush() ?? Promise.resolve();

/** Asks now and then, and when the window is looked at again, whether another window saved. */
export function watchOtherWindows(): void {
  const look = (): void => void keeper?.look();
  setInterval(() => {
    if (document.visibilityState === 'visible') look();
  }, 10_000);
  window.addEventListener('focus', look);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void keeper?.flush();
    else look();
  });
  window.addEventListener('beforeunload', (event) => {
    if (kept.value.kind === 'saved' || !openJob.value) return;
    void keeper?.flush();
    if (kept.value.kind === 'trouble') event.preventDefault();
  });
}

/** The job that the address names, the sample, or the welcome. */
export async function openFromAddress(): Promise<void> {
  const id = new URLSearchParams(location.hash.slice(1)).get('job');
  if (id !== null) await openFromStore(id);
  else dialog.value = 'welcome';
}

/** The file that a maker chose with the system's own dialog. */
export function chooseFile(accept: string): Promise<File | undefined> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.addEventListener('change', () => resolve(input.files?.[0]));
    input.addEventListener('cancel', () => resolve(undefined));
    input.click();
  });
}
