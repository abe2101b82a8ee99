/*
 * Gateway to fflate: a job as one `.plastron` file, a zip of job.json, the body and, if there is one, a preview picture.
 */
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import type { U8 } from '../base/arrays.ts';
import { plainBytes } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { Failure } from '../base/failure.ts';
import { sha256 } from '../base/hash.ts';
import type { SourceFile } from '../read/triangle-soup.ts';
import type { Job } from './job.ts';
import { checkJob, jobText } from './schema.ts';

const megabyte = 1 << 20;

/** What a bundle may unpack to, bytes: three million triangles as text, and room. */
export const bundleLimit = 1 << 30;

export interface OpenedBundle {
  readonly job: Job;
  readonly file: SourceFile;
  readonly findings: readonly Finding[];
}

/**
 * Packs a job with its body. The bytes depend on the content and the job's date only.
 * @param preview PNG bytes
 */
export function packJob(job: Job, file: SourceFile, preview?: U8): Uint8Array {
  const bytes = plainBytes(file.bytes);
  const packed: Job = { ...job, body: { ...job.body, file: file.name, sha256: sha256(bytes) } };
  const entries: Record<string, Uint8Array> = {
    'job.json': strToU8(jobText(packed)),
    [`body/${file.name}`]: bytes,
  };
  if (preview) entries['preview.png'] = plainBytes(preview);
  return zipSync(entries, { level: 6, mtime: `${job.date}T12:00:00` });
}

/**
 * Opens a bundle.
 * @throws bundle/not-a-zip, bundle/no-job, bundle/no-body, bundle/too-large, and what `checkJob` throws
 */
export function openBundle(bytes: U8): OpenedBundle {
  let entries: Record<string, Uint8Array>;
  let total = 0;
  try {
    entries = unzipSync(plainBytes(bytes), {
      filter: (entry) => {
        total += entry.originalSize;
        return total <= bundleLimit;
      },
    });
  } catch (cause) {
    throw new Failure(
      'bundle/not-a-zip',
      'This file is not a .plastron bundle, or it is damaged.',
      {},
      'Save the job again, or take an earlier copy.',
      cause,
    );
  }
  if (total > bundleLimit)
    throw new Failure(
      'bundle/too-large',
      `The bundle unpacks to ${Math.round(total / megabyte)} MB; the limit is ${bundleLimit / megabyte} MB.`,
      {},
      'Simplify the scan before packing it.',
    );
  const text = entries['job.json'];
  if (!text) throw new Failure('bundle/no-job', 'The bundle holds no job.json.', {}, 'Choose a .plastron file that Plastron saved.');
  const { job, findings } = checkJob(parse(strFromU8(text)));
  const body = entries[`body/${job.body.file}`] ?? entries[job.body.file];
  if (!body)
    throw new Failure(
      'bundle/no-body',
      `The bundle holds no "${job.body.file}".`,
      { item: job.body.file },
      'Pack the job together with its body file.',
    );
  return { job, file: { name: job.body.file, bytes: body }, findings };
}

/** @throws job/not-json with the place of the fault */
export function parseJob(text: string): { readonly job: Job; readonly findings: readonly Finding[] } {
  return checkJob(parse(text));
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch (cause) {
    throw new Failure(
      'job/not-json',
      `The job file is not valid JSON: ${cause instanceof Error ? cause.message : 'unreadable'}.`,
      {},
      'Mend the text at that place, or go back to an earlier version.',
      cause,
    );
  }
}
