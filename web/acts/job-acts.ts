/*
 * Acts on whole jobs.
 */
import { acceptedFiles, chooseFile, closeJob, engine, flushJob, openFile, openSample, replaceBody, store } from '../desk.ts';
import { saveBytes } from '../save-bytes.ts';
import { dialog, job, openJob, progress } from '../state.ts';
import { sayFailure } from '../toast.ts';
import type { Act } from './act.ts';

const hasJob = (): boolean => openJob.value !== undefined;

async function chooseAndOpen(): Promise<void> {
  const file = await chooseFile(acceptedFiles);
  if (file) await openFile(file);
}

async function chooseAndReplace(): Promise<void> {
  const file = await chooseFile('.obj,.glb,.gltf,.ply,.stl');
  if (file) await replaceBody(file);
}

async function saveBundle(): Promise<void> {
  const open = openJob.value;
  if (!open) return;
  try {
    await flushJob();
    saveBytes(`${job.value?.name ?? 'job'}.plastron`, 'application/zip', await store.bundle(open.id));
  } catch (error) {
    sayFailure(error);
  }
}

export const jobActs: readonly Act[] = [
  {
    id: 'open-file',
    title: 'Open a scan or a .plastron file …',
    group: 'Job',
    keys: 'Ctrl+O',
    words: 'new import mesh obj glb ply stl',
    run: () => void chooseAndOpen(),
  },
  {
    id: 'jobs',
    title: 'Jobs kept here …',
    group: 'Job',
    keys: 'Ctrl+J',
    words: 'list recent open delete bin',
    run: () => (dialog.value = 'jobs'),
  },
  { id: 'sample', title: 'Open the sample job', group: 'Job', words: 'tide warden demo example', run: () => void openSample() },
  {
    id: 'replace-body',
    title: 'Put another scan under these marks …',
    group: 'Job',
    words: 'replace body',
    isReady: hasJob,
    run: () => void chooseAndReplace(),
  },
  {
    id: 'save-bundle',
    title: 'Save as one .plastron file',
    group: 'Job',
    keys: 'Ctrl+S',
    words: 'download export bundle',
    isReady: hasJob,
    run: () => void saveBundle(),
  },
  {
    id: 'versions',
    title: 'Earlier versions …',
    group: 'Job',
    words: 'restore backup go back',
    isReady: hasJob,
    run: () => (dialog.value = 'versions'),
  },
  {
    id: 'stop',
    title: 'Stop the work',
    group: 'Job',
    words: 'cancel',
    isReady: () => progress.value !== undefined,
    run: () => engine.stop(),
  },
  { id: 'again', title: 'Work everything out again', group: 'Job', words: 'run refresh', isReady: hasJob, run: () => engine.run() },
  { id: 'close', title: 'Clear the bench', group: 'Job', words: 'close job empty', isReady: hasJob, run: () => void closeJob() },
];
