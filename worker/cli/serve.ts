/*
 * `plastron serve`: the page and the jobs on disk, until Ctrl+C.
 */
import { resolve } from 'node:path';
import { packJob } from '../../src/job/bundle.ts';
import { sampleJob } from '../../samples/jobs/tide-warden.ts';
import type { JobStore } from '../../web/server/job-store.ts';
import { defaultJobsFolder, startServer } from '../../web/server/start.ts';
import { loadJob } from './load-job.ts';
import type { CliCommand } from './words.ts';
import { textOption, WrongWords } from './words.ts';

/** Id under which the sample job is kept. */
const sampleId = 'tide-warden-chest';

async function addSample(store: JobStore): Promise<string> {
  if (await store.has(sampleId)) return sampleId;
  const { job, file } = await sampleJob();
  return store.create(job, { name: file.name, bytes: file.bytes as Uint8Array }, sampleId);
}

export const serveCommand: CliCommand = {
  name: 'serve',
  positionals: '[JOB]',
  summary: 'Serves the page; with JOB, on that job (a job.json, its folder or a .plastron file is copied into the jobs folder).',
  options: {
    port: { type: 'string', value: 'N', help: 'port (default 4173; 0: any free one)' },
    host: { type: 'string', value: 'H', help: 'address to listen on (default 127.0.0.1; any other demands a token)' },
    jobs: { type: 'string', value: 'DIR', help: 'folder of the jobs (default: in your data directory)' },
    sample: { type: 'boolean', help: 'open the sample job' },
  },
  run: async (words) => {
    const port = Number(textOption(words, 'port') ?? 4173);
    if (!Number.isInteger(port) || port < 0 || port > 65535) throw new WrongWords('--port takes a whole number from 0 to 65535');
    const server = await startServer({
      port,
      host: textOption(words, 'host') ?? '127.0.0.1',
      jobsFolder: resolve(textOption(words, 'jobs') ?? defaultJobsFolder()),
      sample: addSample,
    });
    const [path] = words.positionals;
    const loaded = path === undefined ? undefined : await loadJob(path);
    const id = loaded
      ? await server.store.addBundle(packJob(loaded.job, loaded.file))
      : words.options.sample === true
        ? await addSample(server.store)
        : undefined;
    const address = `${server.address}${id === undefined ? '' : `#job=${id}`}`;
    console.error(`Plastron is at ${address}\nStop it with Ctrl+C.`);
    await new Promise<void>((done) => {
      process.once('SIGINT', done);
      process.once('SIGTERM', done);
    });
    await server.close();
    return { ok: true, json: { plastron: 1, kind: 'serve', ok: true, address }, text: [] };
  },
};
