import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Job } from '../../../src/job/job.ts';
import { applyCommand } from '../../../src/job/commands/index.ts';
import type { RunningServer } from '../../../web/server/start.ts';
import { startServer } from '../../../web/server/start.ts';
import { smallJob } from '../../support/jobs.ts';

let folder = '';
let server: RunningServer;
const bodyBytes = new TextEncoder().encode('v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n');

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plastron-server-'));
  server = await startServer({
    port: 0,
    host: '127.0.0.1',
    jobsFolder: folder,
    sample: (store) => store.create(smallJob(), { name: 'body.obj', bytes: bodyBytes }, 'sample'),
  });
});

afterEach(async () => {
  await server.close();
  await rm(folder, { recursive: true, force: true });
});

const api = (path: string): string => `${server.address}api${path}`;

async function send<T>(method: string, path: string, body?: unknown): Promise<{ status: number; value: T }> {
  const isBytes = body instanceof Uint8Array;
  const response = await fetch(api(path), {
    method,
    ...(body === undefined
      ? {}
      : {
          body: isBytes ? Buffer.from(body) : JSON.stringify(body),
          headers: { 'content-type': isBytes ? 'application/octet-stream' : 'application/json' },
        }),
  });
  return { status: response.status, value: (await response.json()) as T };
}

async function newJobId(): Promise<string> {
  const { status, value } = await send<{ id: string }>('POST', '/jobs?name=Collar%20%C3%A9&file=scan.obj', bodyBytes);
  expect(status).toBe(201);
  return value.id;
}

describe('jobs over HTTP', () => {
  it('are made from a scan, listed, saved and opened again [round trip]', async () => {
    const id = await newJobId();
    expect(id).toMatch(/^collar-e-[0-9a-f]{8}$/);
    const opened = (await send<{ job: Job; revision: number }>('GET', `/jobs/${id}`)).value;
    expect(opened.revision).toBe(1);
    const changed = applyCommand(opened.job, { kind: 'rename-job', args: { name: 'Gorget' } });
    expect((await send('PUT', `/jobs/${id}`, { job: changed, revision: 1 })).value).toEqual({ revision: 2 });
    expect((await send<{ job: Job }>('GET', `/jobs/${id}`)).value.job.name).toBe('Gorget');
    expect((await send<{ name: string }[]>('GET', '/jobs')).value.map((job) => job.name)).toEqual(['Gorget']);
    const body = await fetch(api(`/jobs/${id}/body`));
    expect(new Uint8Array(await body.arrayBuffer())).toEqual(bodyBytes);
    expect(JSON.parse(await readFile(join(folder, id, 'job.json'), 'utf8'))).toEqual(changed);
  });

  it('of two windows never overwrite each other: the second save is refused [invariant]', async () => {
    const id = await newJobId();
    const { job } = (await send<{ job: Job }>('GET', `/jobs/${id}`)).value;
    const saves = await Promise.all(
      ['One', 'Two'].map((name) => send<{ code?: string }>('PUT', `/jobs/${id}`, { job: { ...job, name }, revision: 1 })),
    );
    expect(saves.map((save) => save.status).sort()).toEqual([200, 409]);
    expect(saves.find((save) => save.status === 409)?.value.code).toBe('store/conflict');
  });

  it('bring back journalled acts after a break, and say so; a torn last line is said too [injected failure]', async () => {
    const id = await newJobId();
    await send('POST', `/jobs/${id}/journal`, { command: { kind: 'rename-job', args: { name: 'Before the break' } }, revision: 1 });
    await writeFile(join(folder, id, 'journal.jsonl'), '{"revision":1,"comm', { flag: 'a' });
    const opened = (await send<{ job: Job; findings: { code: string }[] }>('GET', `/jobs/${id}`)).value;
    expect(opened.job.name).toBe('Before the break');
    expect(opened.findings.map((entry) => entry.code).sort()).toEqual(['store/recovered', 'store/torn-journal']);
  });

  it('take a job.json that was edited by hand as a new version [round trip]', async () => {
    const id = await newJobId();
    const path = join(folder, id, 'job.json');
    const text = await readFile(path, 'utf8');
    await new Promise((resolve) => setTimeout(resolve, 20));
    await writeFile(path, text.replace('"Collar é"', '"By hand"'));
    const opened = (await send<{ job: Job; revision: number }>('GET', `/jobs/${id}`)).value;
    expect([opened.job.name, opened.revision]).toEqual(['By hand', 2]);
  });

  it('go back to a version as a new version, and to the bin when deleted [invariant]', async () => {
    const id = await newJobId();
    const { job } = (await send<{ job: Job }>('GET', `/jobs/${id}`)).value;
    await send('PUT', `/jobs/${id}`, { job: { ...job, name: 'Later' }, revision: 1 });
    const restored = (await send<{ job: Job; revision: number }>('POST', `/jobs/${id}/versions/1/restore`)).value;
    expect([restored.job.name, restored.revision]).toEqual(['Collar é', 3]);
    expect((await send<{ revision: number }[]>('GET', `/jobs/${id}/versions`)).value.map((version) => version.revision)).toEqual([3, 2, 1]);
    await send('DELETE', `/jobs/${id}`);
    expect((await send('GET', `/jobs/${id}`)).status).toBe(404);
    expect((await readdir(join(folder, '.bin'))).length).toBe(1);
  });

  it('travel as one bundle [round trip]', async () => {
    const id = await newJobId();
    const bundle = new Uint8Array(await (await fetch(api(`/jobs/${id}/bundle`))).arrayBuffer());
    const copy = (await send<{ id: string }>('POST', '/jobs/bundle', bundle)).value.id;
    const [first, second] = await Promise.all([id, copy].map(async (each) => (await send<{ job: Job }>('GET', `/jobs/${each}`)).value.job));
    expect(second).toEqual(first);
  });

  it('the sample is made once [invariant]', async () => {
    expect((await send('GET', '/sample')).value).toEqual({ id: 'sample' });
  });
});

describe('the guard', () => {
  it('answers for its own host name only [DNS rebinding, common practice, no source]', async () => {
    const { port } = new URL(server.address);
    const status = await new Promise<number | undefined>((resolve, reject) => {
      httpRequest({ host: '127.0.0.1', port, path: '/api/jobs', headers: { host: 'evil.example' } }, (response) => {
        response.resume();
        resolve(response.statusCode);
      })
        .on('error', reject)
        .end();
    });
    expect(status).toBe(403);
    expect((await fetch(api('/jobs'), { headers: { origin: 'http://evil.example' } })).status).toBe(403);
    expect((await fetch(api('/jobs'), { headers: { origin: server.address.replace(/\/$/, '') } })).status).toBe(200);
  });

  it('sends a policy that lets the page load from nowhere else [spec: CSP level 3]', async () => {
    const policy = (await fetch(api('/jobs'))).headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("connect-src 'self'");
    expect(policy).not.toMatch(/https?:|\*|unsafe-inline|'unsafe-eval'/);
  });

  it('names never become paths; bad requests get a clear answer and leave nothing behind [invariant]', async () => {
    const before = await readdir(folder);
    for (const [method, path, body, status] of [
      ['GET', '/jobs/..%2f..%2fetc', undefined, 400],
      ['GET', '/jobs/.bin', undefined, 400],
      ['GET', '/jobs/nothing-here', undefined, 404],
      ['POST', '/jobs?file=../../evil.sh', undefined, 400],
      ['POST', '/jobs/bundle', Uint8Array.of(1, 2, 3), 400],
      ['GET', '/nowhere', undefined, 404],
    ] as const) {
      const answer = await send<{ code: string; what: string; mend: string }>(method, path, body);
      expect(answer.status, path).toBe(status);
      expect(answer.value.code.length * answer.value.what.length * answer.value.mend.length, path).toBeGreaterThan(0);
    }
    expect(await readdir(folder)).toEqual(before);
    const evil = (await send<{ id: string }>('POST', '/jobs?file=..%2F..%2Fevil.sh', bodyBytes)).value.id;
    const names = await readdir(join(folder, evil));
    expect(names.filter((name) => name.startsWith('body-')).every((name) => /^body-[0-9a-f]{12}\.mesh$/.test(name))).toBe(true);
    const { revision } = (await send<{ revision: number }>('GET', `/jobs/${evil}`)).value;
    expect((await send('PUT', `/jobs/${evil}`, { job: { plastron: 1 }, revision })).status).toBe(400);
    expect((await send<{ revision: number }>('GET', `/jobs/${evil}`)).value.revision).toBe(revision);
  });
});
