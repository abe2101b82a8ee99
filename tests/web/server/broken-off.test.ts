/*
 * A server that is killed at random moments of many saves: no job is lost or torn, and every save that was answered is there.
 */
import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createRandom } from '../../../src/base/random.ts';
import { createJobStore } from '../../../web/server/job-store.ts';
import { smallJob } from '../../support/jobs.ts';
import { root } from '../../support/sources.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plastron-killed-'));
});
afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
});

interface Running {
  readonly child: ChildProcess;
  readonly address: string;
}

/** Starts the server of this folder in a process of its own. */
async function start(): Promise<Running> {
  const child = spawn(process.execPath, ['--import', 'tsx', join(root, 'tests/support/serve-folder.ts'), folder], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout?.once('data', (data: Buffer) => resolve(data.toString().trim()));
    child.once('exit', () => reject(new Error('the server did not start')));
  });
  return { child, address };
}

describe('the job store under SIGKILL', () => {
  it('keeps every answered save whole over 200 saves with the server killed again and again [injected failure]', async () => {
    const random = createRandom(20261125);
    const id = await createJobStore(folder).create(smallJob(), { name: 'body.obj', bytes: Uint8Array.of(1) }, 'killed');
    let confirmed = { revision: 1, name: smallJob().name };
    let tried = 0;
    let kills = 0;
    while (tried < 200) {
      const { child, address } = await start();
      const killAt = setTimeout(() => child.kill('SIGKILL'), 15 + 250 * random());
      const ended = new Promise((resolve) => child.once('exit', resolve));
      let open = true;
      void ended.then(() => (open = false));
      while (open && tried < 200) {
        tried++;
        const name = `Save ${tried}`;
        const job = { ...smallJob(), name, body: { ...smallJob().body, file: 'body-x.obj' } };
        try {
          const { revision } = (await (await fetch(`${address}api/jobs/${id}/revision`)).json()) as { revision: number };
          const response = await fetch(`${address}api/jobs/${id}`, {
            method: 'PUT',
            headers: { 'content-type': 'application/json' },
            body: JSON.stringify({ job, revision }),
          });
          if (response.ok) confirmed = { revision: ((await response.json()) as { revision: number }).revision, name };
        } catch {
          break;
        }
      }
      clearTimeout(killAt);
      child.kill('SIGKILL');
      await ended;
      kills++;
      const stored = await createJobStore(folder).open(id);
      expect(stored.revision).toBeGreaterThanOrEqual(confirmed.revision);
      if (stored.revision === confirmed.revision) expect(stored.job.name).toBe(confirmed.name);
      else expect(stored.job.name).toMatch(/^Save \d+$/);
    }
    expect(kills).toBeGreaterThan(1);
  }, 120_000);
});
