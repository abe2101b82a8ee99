/*
 * Starts the server: on the loopback address unless the maker opens it to the workshop's network, which demands a token.
 */
import { randomBytes } from 'node:crypto';
import { mkdir } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { createServer } from 'node:http';
import { homedir, networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Failure } from '../../src/base/failure.ts';
import { createApp } from './app.ts';
import type { JobStore } from './job-store.ts';
import { createJobStore } from './job-store.ts';

export interface ServeOptions {
  readonly port: number;
  readonly host: string;
  readonly jobsFolder: string;
  /** Puts the sample job into the store if it is not there; answers its id. */
  readonly sample: (store: JobStore) => Promise<string>;
}

export interface RunningServer {
  /** Address to open, with the token where one is needed. */
  readonly address: string;
  readonly store: JobStore;
  readonly close: () => Promise<void>;
}

/** Where jobs are kept by default: the user's data directory. */
export function defaultJobsFolder(): string {
  const data =
    process.env.XDG_DATA_HOME ?? (process.platform === 'win32' ? process.env.APPDATA : undefined) ?? join(homedir(), '.local', 'share');
  return join(data, 'plastron', 'jobs');
}

const isLoopback = (host: string): boolean => host === '127.0.0.1' || host === 'localhost' || host === '::1';

/** @throws server/port-taken, server/cannot-listen */
export async function startServer(options: ServeOptions): Promise<RunningServer> {
  await mkdir(options.jobsFolder, { recursive: true });
  const store = createJobStore(options.jobsFolder);
  const token = isLoopback(options.host) ? undefined : randomBytes(16).toString('hex');
  let port = options.port;
  const app = createApp({
    store,
    port: () => port,
    hosts: isLoopback(options.host) ? [] : ownNames(options.host),
    ...(token === undefined ? {} : { token }),
    pageFolder: fileURLToPath(new URL('../../dist/page', import.meta.url)),
    sample: () => options.sample(store),
    today: () => new Date().toISOString().slice(0, 10),
  });
  const server = createServer(app);
  await new Promise<void>((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const taken = error.code === 'EADDRINUSE';
      reject(
        new Failure(
          taken ? 'server/port-taken' : 'server/cannot-listen',
          taken
            ? `Port ${options.port} is taken by another program.`
            : `The server cannot listen on ${options.host}:${options.port}: ${error.message}.`,
          { stage: 'server' },
          'Choose another with --port, or 0 for any free one.',
          error,
        ),
      );
    });
    server.listen(options.port, options.host, resolve);
  });
  // A server that listens on TCP has an address record.
  port = (server.address() as AddressInfo).port;
  const shown = options.host === '0.0.0.0' || options.host === '::' ? (ownNames(options.host)[0] ?? options.host) : options.host;
  return {
    address: `http://${shown}:${port}/${token === undefined ? '' : `?token=${token}`}`,
    store,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** The names under which this machine answers when it listens on `host`. */
function ownNames(host: string): string[] {
  if (host !== '0.0.0.0' && host !== '::') return [host];
  return Object.values(networkInterfaces()).flatMap((addresses) =>
    (addresses ?? []).filter((entry) => !entry.internal).map((entry) => (entry.family === 'IPv6' ? `[${entry.address}]` : entry.address)),
  );
}
