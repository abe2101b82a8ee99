/*
 * The page's side of the server: every request in one place. What goes wrong comes back as a Failure with the server's own account.
 */
import type { Account, Finding } from '../src/base/failure.ts';
import { Failure, fromAccount } from '../src/base/failure.ts';
import type { U8 } from '../src/base/arrays.ts';
import { plainBytes } from '../src/base/arrays.ts';
import type { Command } from '../src/job/commands/index.ts';
import type { Job } from '../src/job/job.ts';

export interface JobSummary {
  readonly id: string;
  readonly name: string;
  readonly date: string;
  readonly savedAt: string;
}

export interface StoredJob {
  readonly job: Job;
  readonly revision: number;
  readonly findings: readonly Finding[];
}

export interface VersionSummary {
  readonly revision: number;
  readonly savedAt: string;
}

export interface Store {
  readonly list: () => Promise<readonly JobSummary[]>;
  /** A new job on a scan. */
  readonly create: (name: string, file: string, bytes: U8) => Promise<string>;
  readonly sample: () => Promise<string>;
  readonly open: (id: string) => Promise<StoredJob>;
  readonly body: (id: string) => Promise<Uint8Array>;
  readonly putBody: (id: string, file: string, bytes: U8) => Promise<{ readonly file: string; readonly sha256: string }>;
  /** @returns the number of the save. @throws store/conflict when another window saved meanwhile */
  readonly save: (id: string, job: Job, revision: number) => Promise<number>;
  readonly journal: (id: string, command: Command, revision: number) => Promise<void>;
  readonly revision: (id: string) => Promise<number>;
  readonly versions: (id: string) => Promise<readonly VersionSummary[]>;
  readonly version: (id: string, revision: number) => Promise<Job>;
  readonly restore: (id: string, revision: number) => Promise<StoredJob>;
  readonly remove: (id: string) => Promise<void>;
  readonly bundle: (id: string) => Promise<Uint8Array>;
  readonly addBundle: (bytes: U8) => Promise<string>;
}

export type FetchLike = (path: string, init: RequestInit) => Promise<Response>;

/** @param token demanded by a server that is open to the workshop's network */
export function createStore(token?: string, fetchLike: FetchLike = (path, init) => fetch(path, init)): Store {
  async function ask(method: string, path: string, body?: BodyInit, type?: string): Promise<Response> {
    const headers: Record<string, string> = {};
    if (token !== undefined) headers['x-plastron-token'] = token;
    if (type !== undefined) headers['content-type'] = type;
    let response: Response;
    try {
      response = await fetchLike(`api/${path}`, { method, headers, ...(body === undefined ? {} : { body }) });
    } catch (cause) {
      throw new Failure(
        'page/no-server',
        'Plastron’s server does not answer.',
        { stage: 'store' },
        'Start it again with npm start; this page keeps your work and saves it then.',
        cause,
      );
    }
    if (!response.ok) throw await failureOf(response);
    return response;
  }
  // The server answers what `web/server/app.ts` says; the shapes are the interfaces above.
  const json = async <T>(method: string, path: string, body?: unknown): Promise<T> =>
    (await (await ask(method, path, body === undefined ? undefined : JSON.stringify(body), 'application/json')).json()) as T;
  const bytesOf = async (path: string): Promise<Uint8Array> => new Uint8Array(await (await ask('GET', path)).arrayBuffer());
  const sent = async <T>(method: string, path: string, bytes: U8): Promise<T> =>
    (await (await ask(method, path, new Blob([blobPart(bytes)]), 'application/octet-stream')).json()) as T;
  const at = (id: string): string => `jobs/${encodeURIComponent(id)}`;

  return {
    list: () => json('GET', 'jobs'),
    create: async (name, file, bytes) =>
      (await sent<{ id: string }>('POST', `jobs?${new URLSearchParams({ name, file }).toString()}`, bytes)).id,
    sample: async () => (await json<{ id: string }>('GET', 'sample')).id,
    open: (id) => json('GET', at(id)),
    body: (id) => bytesOf(`${at(id)}/body`),
    putBody: (id, file, bytes) => sent('PUT', `${at(id)}/body?${new URLSearchParams({ name: file }).toString()}`, bytes),
    save: async (id, job, revision) => (await json<{ revision: number }>('PUT', at(id), { job, revision })).revision,
    journal: async (id, command, revision) => void (await json('POST', `${at(id)}/journal`, { command, revision })),
    revision: async (id) => (await json<{ revision: number }>('GET', `${at(id)}/revision`)).revision,
    versions: (id) => json('GET', `${at(id)}/versions`),
    version: (id, revision) => json('GET', `${at(id)}/versions/${revision}`),
    restore: (id, revision) => json('POST', `${at(id)}/versions/${revision}/restore`, {}),
    remove: async (id) => void (await json('DELETE', at(id))),
    bundle: (id) => bytesOf(`${at(id)}/bundle`),
    addBundle: async (bytes) => (await sent<{ id: string }>('POST', 'jobs/bundle', bytes)).id,
  };
}

/** Bytes as a part of a Blob; the read-only view hides what the Blob only reads. */
export const blobPart = (bytes: U8): BlobPart => plainBytes(bytes) as Uint8Array<ArrayBuffer>;

async function failureOf(response: Response): Promise<Failure> {
  const value: unknown = await response.json().catch(() => undefined);
  if (isAccount(value)) return fromAccount(value);
  return new Failure(
    'page/server-answer',
    `The server answered ${response.status} without saying why.`,
    { stage: 'store' },
    'Reload the page; if it happens again, start Plastron again.',
  );
}

function isAccount(value: unknown): value is Account {
  return typeof value === 'object' && value !== null && 'code' in value && 'what' in value && 'mend' in value;
}
