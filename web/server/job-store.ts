/*
 * Jobs on disk, one folder a job:
 *   job.json            the newest save, for people and for the command line
 *   body-HASH.EXT       the scan; an older one stays while a version needs it
 *   versions/N.json     every save, N = revision; the newest is the truth (job.json is healed from it)
 *   journal.jsonl       commands since the newest save, one line each, on disk before the page hears of it
 * Deleted jobs move to `.bin`. All names on disk are made here; none comes from a request.
 */
import { randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { Failure } from '../../src/base/failure.ts';
import type { Finding } from '../../src/base/failure.ts';
import { finding } from '../../src/base/failure.ts';
import { sha256 } from '../../src/base/hash.ts';
import { openBundle, packJob, parseJob } from '../../src/job/bundle.ts';
import type { Command } from '../../src/job/commands/index.ts';
import { applyCommand } from '../../src/job/commands/index.ts';
import type { Job } from '../../src/job/job.ts';
import { checkJob, jobText } from '../../src/job/schema.ts';
import { appendDurably, syncFolder, writeDurably } from './durable.ts';
import { versionsToDrop } from './thinning.ts';

export interface JobSummary {
  readonly id: string;
  readonly name: string;
  readonly date: string;
  /** ISO time of the newest save. */
  readonly savedAt: string;
}

export interface StoredJob {
  readonly job: Job;
  /** Number of the newest save. */
  readonly revision: number;
  readonly findings: readonly Finding[];
}

export interface VersionSummary {
  readonly revision: number;
  readonly savedAt: string;
}

const idShape = /^[a-z0-9][a-z0-9-]{0,63}$/;
const bodyEndings = new Set(['.obj', '.glb', '.gltf', '.ply', '.stl']);

export interface JobStore {
  readonly list: () => Promise<JobSummary[]>;
  readonly create: (job: Job, body: { readonly name: string; readonly bytes: Uint8Array }, id?: string) => Promise<string>;
  readonly open: (id: string) => Promise<StoredJob>;
  readonly body: (id: string) => Promise<{ readonly name: string; readonly bytes: Buffer }>;
  /** Stores a scan and answers the name that `body.file` must take; the job itself changes only by `save`. */
  readonly putBody: (id: string, name: string, bytes: Uint8Array) => Promise<{ readonly file: string; readonly sha256: string }>;
  /** @param basedOn revision that the change was made on; store/conflict if another save came between */
  readonly save: (id: string, job: unknown, basedOn: number) => Promise<number>;
  readonly journal: (id: string, command: Command, basedOn: number) => Promise<void>;
  readonly versions: (id: string) => Promise<VersionSummary[]>;
  readonly version: (id: string, revision: number) => Promise<Job>;
  readonly restore: (id: string, revision: number) => Promise<StoredJob>;
  readonly remove: (id: string) => Promise<void>;
  readonly bundle: (id: string) => Promise<Uint8Array>;
  readonly addBundle: (bytes: Uint8Array) => Promise<string>;
  readonly has: (id: string) => Promise<boolean>;
  readonly revision: (id: string) => Promise<number>;
}

/** @param root folder of all jobs; made when the first job is */
export function createJobStore(root: string): JobStore {
  const locks = new Map<string, Promise<unknown>>();

  function folderOf(id: string): string {
    if (!idShape.test(id))
      throw new Failure('store/bad-id', 'That is not the id of a job.', { stage: 'store' }, 'Open the job from the list.');
    return join(root, id);
  }

  /** One change of a job at a time; reads of a job wait too, so that they see whole saves. */
  function locked<T>(id: string, work: () => Promise<T>): Promise<T> {
    const before = locks.get(id) ?? Promise.resolve();
    const result = before.then(work, work);
    locks.set(
      id,
      result.catch(() => undefined),
    );
    return result;
  }

  async function newest(id: string): Promise<number> {
    const revisions = await revisionsIn(folderOf(id));
    const last = revisions.at(-1);
    if (last === undefined)
      throw new Failure(
        'store/no-such-job',
        'There is no such job here.',
        { stage: 'store', item: id },
        'It may have been deleted: look in the bin, or open its .plastron file.',
      );
    return last;
  }

  async function readVersion(id: string, revision: number): Promise<Job> {
    const text = await readFile(versionPath(folderOf(id), revision), 'utf8').catch((cause: unknown) => {
      throw new Failure(
        'store/no-such-version',
        `This job has no version ${revision}.`,
        { stage: 'store', item: id },
        'Choose one from the list.',
        cause,
      );
    });
    return parseJob(text).job;
  }

  async function writeVersion(id: string, job: Job, revision: number): Promise<void> {
    const folder = folderOf(id);
    const text = jobText(job);
    await writeDurably(versionPath(folder, revision), text);
    await writeDurably(join(folder, 'job.json'), text);
    await writeDurably(join(folder, 'journal.jsonl'), '');
    await thin(folder);
  }

  async function openNow(id: string): Promise<StoredJob> {
    const folder = folderOf(id);
    let revision = await newest(id);
    const edited = await handEdit(folder, revision);
    if (edited) await writeVersion(id, edited, ++revision);
    const saved = await readVersion(id, revision);
    return { ...(await replay(folder, saved, revision)), revision };
  }

  async function create(job: Job, body: { readonly name: string; readonly bytes: Uint8Array }, id = newId(job.name)): Promise<string> {
    const folder = folderOf(id);
    await mkdir(join(folder, 'versions'), { recursive: true });
    const stored = await storeBody(folder, body.name, body.bytes);
    await writeVersion(id, { ...job, body: { ...job.body, ...stored } }, 1);
    await syncFolder(root);
    return id;
  }

  return {
    list: async () => {
      const entries = await readdir(root, { withFileTypes: true }).catch(() => []);
      const summaries: JobSummary[] = [];
      for (const entry of entries) {
        if (!entry.isDirectory() || !idShape.test(entry.name)) continue;
        const summary = await summarise(entry.name, folderOf(entry.name)).catch(() => undefined);
        if (summary) summaries.push(summary);
      }
      return summaries.sort((a, b) => b.savedAt.localeCompare(a.savedAt));
    },
    has: async (id) => (await revisionsIn(folderOf(id))).length > 0,
    revision: (id) => locked(id, () => newest(id)),
    create,
    open: (id) => locked(id, () => openNow(id)),
    body: (id) =>
      locked(id, async () => {
        const { job } = await openNow(id);
        const name = job.body.file;
        if (!/^body-[0-9a-f]{12}\.[a-z]+$/.test(name))
          throw new Failure(
            'store/no-body',
            'The job names a body that is not in its folder.',
            { stage: 'store', item: id },
            'Open the scan again.',
          );
        return { name, bytes: await readFile(join(folderOf(id), name)) };
      }),
    putBody: (id, name, bytes) => locked(id, () => storeBody(folderOf(id), name, bytes)),
    save: (id, value, basedOn) =>
      locked(id, async () => {
        const revision = await newest(id);
        if (revision !== basedOn)
          throw new Failure(
            'store/conflict',
            'Another window saved this job meanwhile.',
            { stage: 'store', item: id },
            'Take its version, or save yours as a new job.',
          );
        const { job } = checkJob(value);
        await writeVersion(id, job, revision + 1);
        return revision + 1;
      }),
    journal: (id, command, basedOn) =>
      locked(id, async () => {
        const revision = await newest(id);
        if (revision !== basedOn)
          throw new Failure(
            'store/conflict',
            'Another window saved this job meanwhile.',
            { stage: 'store', item: id },
            'Take its version, or save yours as a new job.',
          );
        await appendDurably(join(folderOf(id), 'journal.jsonl'), JSON.stringify({ revision, command }));
      }),
    versions: (id) =>
      locked(id, async () => {
        const folder = folderOf(id);
        const revisions = await revisionsIn(folder);
        const times = await Promise.all(
          revisions.map(async (revision) => ({ revision, savedAt: (await stat(versionPath(folder, revision))).mtime.toISOString() })),
        );
        return times.reverse();
      }),
    version: (id, revision) => locked(id, () => readVersion(id, revision)),
    restore: (id, revision) =>
      locked(id, async () => {
        const next = (await newest(id)) + 1;
        const job = await readVersion(id, revision);
        await writeVersion(id, job, next);
        return { job, revision: next, findings: [] };
      }),
    remove: (id) =>
      locked(id, async () => {
        await newest(id);
        const bin = join(root, '.bin');
        await mkdir(bin, { recursive: true });
        await rename(folderOf(id), join(bin, `${id}-${randomBytes(4).toString('hex')}`));
        await syncFolder(root);
      }),
    bundle: (id) =>
      locked(id, async () => {
        const { job } = await openNow(id);
        return packJob(job, { name: job.body.file, bytes: await readFile(join(folderOf(id), job.body.file)) });
      }),
    addBundle: async (bytes) => {
      const { job, file } = openBundle(bytes);
      return create(job, { name: file.name, bytes: file.bytes as Uint8Array });
    },
  };
}

const versionPath = (folder: string, revision: number): string => join(folder, 'versions', `${revision}.json`);

/** Ascending. */
async function revisionsIn(folder: string): Promise<number[]> {
  const names = await readdir(join(folder, 'versions')).catch(() => []);
  return names
    .filter((name) => /^\d+\.json$/.test(name))
    .map((name) => Number.parseInt(name, 10))
    .sort((a, b) => a - b);
}

function newId(name: string): string {
  const slug = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40);
  return `${slug === '' ? 'job' : slug}-${randomBytes(4).toString('hex')}`;
}

async function storeBody(folder: string, name: string, bytes: Uint8Array): Promise<{ file: string; sha256: string }> {
  const hash = sha256(bytes);
  const ending = extname(name).toLowerCase();
  const file = `body-${hash.slice(0, 12)}${bodyEndings.has(ending) ? ending : '.mesh'}`;
  await writeDurably(join(folder, file), bytes);
  return { file, sha256: hash };
}

async function summarise(id: string, folder: string): Promise<JobSummary | undefined> {
  const last = (await revisionsIn(folder)).at(-1);
  if (last === undefined) return undefined;
  const path = versionPath(folder, last);
  const { job } = parseJob(await readFile(path, 'utf8'));
  return { id, name: job.name, date: job.date, savedAt: (await stat(path)).mtime.toISOString() };
}

/** The job in job.json, if somebody edited it after the newest save. A job.json that a crash left behind is simply written again. */
async function handEdit(folder: string, revision: number): Promise<Job | undefined> {
  const path = join(folder, 'job.json');
  const [text, version] = await Promise.all([
    readFile(path, 'utf8').catch(() => undefined),
    readFile(versionPath(folder, revision), 'utf8'),
  ]);
  if (text === version) return undefined;
  const times = await Promise.all([stat(path).catch(() => undefined), stat(versionPath(folder, revision))]);
  if (text === undefined || !times[0] || times[0].mtimeMs <= times[1].mtimeMs) {
    await writeDurably(path, version);
    return undefined;
  }
  return parseJob(text).job;
}

/** Applies the commands that were journalled after the newest save; a torn last line is the gesture in hand, and is said. */
async function replay(folder: string, saved: Job, revision: number): Promise<{ job: Job; findings: Finding[] }> {
  const text = await readFile(join(folder, 'journal.jsonl'), 'utf8').catch(() => '');
  const findings: Finding[] = [];
  let job = saved;
  let count = 0;
  for (const line of text.split('\n')) {
    if (line === '') continue;
    try {
      const entry = JSON.parse(line) as { revision: number; command: Command };
      if (entry.revision !== revision) continue;
      job = applyCommand(job, entry.command);
      count++;
    } catch {
      findings.push(
        finding(
          'warning',
          'store/torn-journal',
          'The last act before the break could not be read back.',
          { stage: 'store' },
          'Look at what you drew last and draw it again if it is missing.',
        ),
      );
      break;
    }
  }
  if (count > 0)
    findings.push(
      finding(
        'note',
        'store/recovered',
        `${count} ${count === 1 ? 'act' : 'acts'} since the last save were brought back after a break.`,
        { stage: 'store' },
        'Nothing to do.',
      ),
    );
  return { job, findings };
}

async function thin(folder: string): Promise<void> {
  const revisions = await revisionsIn(folder);
  const times = await Promise.all(
    revisions.map(async (revision) => ({ revision, time: (await stat(versionPath(folder, revision))).mtimeMs })),
  );
  for (const revision of versionsToDrop(times)) await rm(versionPath(folder, revision), { force: true });
}
