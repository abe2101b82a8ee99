/*
 * `plastron pack JOB`: one .plastron file from a job and its body.
 */
import { writeFile } from 'node:fs/promises';
import { packJob } from '../../src/job/bundle.ts';
import { loadJob } from './load-job.ts';
import type { CliCommand } from './words.ts';
import { onlyPositional, textOption } from './words.ts';

export const packCommand: CliCommand = {
  name: 'pack',
  positionals: 'JOB',
  summary: 'Packs a job.json (or its folder) and its body into one .plastron file.',
  options: { out: { type: 'string', value: 'FILE', help: 'where to write (default: JOB.plastron beside the job)' } },
  run: async (words) => {
    const loaded = await loadJob(onlyPositional(words, 'JOB'));
    const out = textOption(words, 'out') ?? `${loaded.stem}.plastron`;
    const bytes = packJob(loaded.job, loaded.file);
    await writeFile(out, bytes);
    return {
      ok: true,
      json: { plastron: 1, kind: 'pack', ok: true, path: out, bytes: bytes.length, findings: loaded.findings },
      text: [`${out}: ${Math.ceil(bytes.length / 1024)} kB`],
    };
  },
};
