/*
 * A job from disk: a job.json, the folder that holds one, or a .plastron bundle; with the bytes of its body.
 */
import { readFile, stat } from 'node:fs/promises';
import { basename, dirname, extname, join, resolve, sep } from 'node:path';
import type { Finding } from '../../src/base/failure.ts';
import { Failure, finding } from '../../src/base/failure.ts';
import { sha256 } from '../../src/base/hash.ts';
import { openBundle, parseJob } from '../../src/job/bundle.ts';
import type { Job } from '../../src/job/job.ts';
import type { SourceFile } from '../../src/read/triangle-soup.ts';

export interface LoadedJob {
  readonly job: Job;
  readonly file: SourceFile;
  readonly findings: readonly Finding[];
  /** Folder of the job and its name without ending: where results go by default. */
  readonly folder: string;
  readonly stem: string;
}

/** Reads any file. @throws file/not-found, file/unreadable */
export async function loadFile(path: string): Promise<SourceFile & { readonly bytes: Uint8Array }> {
  try {
    return { name: basename(path), bytes: await readFile(path) };
  } catch (cause) {
    const isMissing = (cause as NodeJS.ErrnoException).code === 'ENOENT';
    const what = isMissing ? `There is no file "${path}".` : `"${path}" cannot be read: ${(cause as Error).message}.`;
    throw new Failure(
      isMissing ? 'file/not-found' : 'file/unreadable',
      what,
      { file: basename(path) },
      'Check the path and its permissions.',
      cause,
    );
  }
}

/** @throws file/*, job/*, bundle/*; job/body-outside if the job names a body outside its folder */
export async function loadJob(path: string): Promise<LoadedJob> {
  const isFolder = await stat(path).then(
    (entry) => entry.isDirectory(),
    () => false,
  );
  const jobPath = isFolder ? join(path, 'job.json') : path;
  const source = await loadFile(jobPath);
  const folder = dirname(resolve(jobPath));
  const stem = isFolder ? resolve(path) : resolve(jobPath).slice(0, -extname(jobPath).length);
  // A zip starts with "PK"; a job.json never does.
  if (source.bytes[0] === 0x50 && source.bytes[1] === 0x4b) return { ...openBundle(source.bytes), folder, stem };
  const { job, findings } = parseJob(new TextDecoder().decode(source.bytes));
  const bodyPath = resolve(folder, job.body.file);
  if (!bodyPath.startsWith(folder + sep))
    throw new Failure(
      'job/body-outside',
      `The job's body "${job.body.file}" lies outside the job's folder.`,
      { item: 'body.file' },
      'Copy the mesh into the folder and name it without a path.',
    );
  const file = await loadFile(bodyPath);
  const hash = sha256(file.bytes);
  const changed =
    job.body.sha256 !== undefined && job.body.sha256 !== hash
      ? [
          finding(
            'warning',
            'job/body-changed',
            `"${job.body.file}" is not the file that the marks were drawn on.`,
            { file: job.body.file },
            'Check that every mark still lies where you want it.',
          ),
        ]
      : [];
  return { job, file, findings: [...findings, ...changed], folder, stem };
}
