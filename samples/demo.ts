/*
 * `npm run demo [FOLDER]`: all files of the sample job in `out/`, without a page; prints the parts table.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { spawnSync } from 'node:child_process';
import { sampleJob } from './jobs/tide-warden.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const out = process.argv[2] ?? `${root}out`;
const folder = `${out}/tide-warden`;
const { job, file } = await sampleJob();
await mkdir(folder, { recursive: true });
await writeFile(`${folder}/${file.name}`, file.bytes as Uint8Array);
await writeFile(`${folder}/job.json`, `${JSON.stringify(job, undefined, 1)}\n`);
const { status } = spawnSync(process.execPath, [`${root}worker/bin.mjs`, 'make', folder, '--out', out], { stdio: 'inherit' });
process.exitCode = status ?? 70;
