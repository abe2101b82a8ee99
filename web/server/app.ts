/*
 * The server: the page, and jobs kept on disk. Nothing is computed here; the page's worker does that.
 */
import { existsSync } from 'node:fs';
import type { ErrorRequestHandler, Express, Request, Response } from 'express';
import express from 'express';
import { rateLimit } from 'express-rate-limit';
import helmet from 'helmet';
import * as v from 'valibot';
import { Failure, toAccount } from '../../src/base/failure.ts';
import type { Command } from '../../src/job/commands/index.ts';
import { newJob } from '../../src/job/schema.ts';
import type { GuardOptions } from './guard.ts';
import { guardOrigin, guardToken } from './guard.ts';
import type { JobStore } from './job-store.ts';

export interface AppOptions extends GuardOptions {
  readonly store: JobStore;
  /** Folder of the built page. */
  readonly pageFolder: string;
  /** Makes the sample job in the store if it is not there; answers its id. */
  readonly sample: () => Promise<string>;
  /** ISO date of a new job. */
  readonly today: () => string;
}

/** A scan of three million triangles as text, and room. */
const bodyLimit = '768mb';
const jobLimit = '32mb';

export function createApp(options: AppOptions): Express {
  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  app.use(securityHeaders());
  app.use(guardOrigin(options));
  const wrongTokens = rateLimit({
    windowMs: 60_000,
    limit: 30,
    skipSuccessfulRequests: true,
    requestWasSuccessful: (_request, response) => response.statusCode !== 401,
    standardHeaders: false,
    legacyHeaders: false,
    validate: false,
  });
  app.use('/api', wrongTokens, guardToken(options.token), jobRoutes(options));
  if (existsSync(options.pageFolder))
    app.use(express.static(options.pageFolder, { index: 'index.html', fallthrough: true, dotfiles: 'ignore' }));
  app.use((request: Request) => {
    throw new Failure(
      'server/not-found',
      `There is nothing at ${request.path.slice(0, 200)}.`,
      { stage: 'server' },
      existsSync(options.pageFolder) ? 'Open the address that was printed at start.' : 'Build the page first: npm run build.',
    );
  });
  app.use(answerFailure);
  return app;
}

function securityHeaders(): ReturnType<typeof helmet> {
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", 'blob:', 'data:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        workerSrc: ["'self'"],
        manifestSrc: ["'self'"],
        baseUri: ["'none'"],
        formAction: ["'none'"],
        frameAncestors: ["'none'"],
      },
    },
    // Plain http on the loopback address: no upgrade, no transport security.
    strictTransportSecurity: false,
    crossOriginEmbedderPolicy: { policy: 'require-corp' },
  });
}

const saveShape = v.object({ job: v.unknown(), revision: v.pipe(v.number(), v.integer()) });
const journalShape = v.object({ command: v.object({ kind: v.string(), args: v.unknown() }), revision: v.pipe(v.number(), v.integer()) });

/** @throws server/bad-request */
function shaped<T extends v.GenericSchema>(schema: T, value: unknown): v.InferOutput<T> {
  const result = v.safeParse(schema, value);
  if (!result.success)
    throw new Failure(
      'server/bad-request',
      `The request is not as it should be: ${result.issues[0].message}.`,
      { stage: 'server' },
      'Reload the page.',
    );
  return result.output;
}

function bytesOf(request: Request): Uint8Array {
  if (!Buffer.isBuffer(request.body) || request.body.length === 0)
    throw new Failure('server/bad-request', 'The request carries no file.', { stage: 'server' }, 'Choose the file again.');
  return request.body;
}

function revisionOf(request: Request): number {
  const revision = Number(request.params.revision);
  if (!Number.isInteger(revision) || revision < 1)
    throw new Failure('server/bad-request', 'That is not the number of a version.', { stage: 'server' }, 'Choose a version from the list.');
  return revision;
}

const idOf = (request: Request): string => String(request.params.id);

function jobRoutes({ store, sample, today }: AppOptions): express.Router {
  const routes = express.Router();
  const json = express.json({ limit: jobLimit });
  const raw = express.raw({ limit: bodyLimit, type: () => true });
  const sendBytes = (response: Response, name: string, bytes: Uint8Array): void => {
    response
      .type('application/octet-stream')
      .attachment(name)
      .send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  };

  routes.get('/jobs', async (_request, response) => void response.json(await store.list()));
  // A new job starts from a scan: the body of the request is the file.
  routes.post('/jobs', raw, async (request, response) => {
    const { name, file } = shaped(
      v.object({ name: v.optional(v.pipe(v.string(), v.maxLength(200)), 'Untitled'), file: v.pipe(v.string(), v.maxLength(300)) }),
      request.query,
    );
    response.status(201).json({ id: await store.create(newJob(name, 'body', today()), { name: file, bytes: bytesOf(request) }) });
  });
  routes.post(
    '/jobs/bundle',
    raw,
    async (request, response) => void response.status(201).json({ id: await store.addBundle(bytesOf(request)) }),
  );
  routes.get('/sample', async (_request, response) => void response.json({ id: await sample() }));
  routes.get('/jobs/:id', async (request, response) => void response.json(await store.open(idOf(request))));
  routes.get('/jobs/:id/revision', async (request, response) => void response.json({ revision: await store.revision(idOf(request)) }));
  routes.put('/jobs/:id', json, async (request, response) => {
    const { job, revision } = shaped(saveShape, request.body);
    response.json({ revision: await store.save(idOf(request), job, revision) });
  });
  routes.get('/jobs/:id/body', async (request, response) => {
    const body = await store.body(idOf(request));
    sendBytes(response, body.name, body.bytes);
  });
  routes.put('/jobs/:id/body', raw, async (request, response) => {
    const { name } = shaped(v.object({ name: v.pipe(v.string(), v.maxLength(300)) }), request.query);
    response.json(await store.putBody(idOf(request), name, bytesOf(request)));
  });
  routes.post('/jobs/:id/journal', json, async (request, response) => {
    const { command, revision } = shaped(journalShape, request.body);
    // The kind is looked up in the table of commands when the journal is replayed.
    await store.journal(idOf(request), command as Command, revision);
    response.json({ ok: true });
  });
  routes.get('/jobs/:id/versions', async (request, response) => void response.json(await store.versions(idOf(request))));
  routes.get(
    '/jobs/:id/versions/:revision',
    async (request, response) => void response.json(await store.version(idOf(request), revisionOf(request))),
  );
  routes.post(
    '/jobs/:id/versions/:revision/restore',
    async (request, response) => void response.json(await store.restore(idOf(request), revisionOf(request))),
  );
  routes.get('/jobs/:id/bundle', async (request, response) =>
    sendBytes(response, `${idOf(request)}.plastron`, await store.bundle(idOf(request))),
  );
  routes.delete('/jobs/:id', async (request, response) => {
    await store.remove(idOf(request));
    response.json({ ok: true });
  });
  return routes;
}

/** HTTP status of a failure's code; 400 for every other Failure. */
const statusOf: Readonly<Record<string, number>> = {
  'server/wrong-host': 403,
  'server/wrong-origin': 403,
  'server/token': 401,
  'server/not-found': 404,
  'store/no-such-job': 404,
  'store/no-such-version': 404,
  'store/conflict': 409,
  'store/full-disk': 507,
};

const answerFailure: ErrorRequestHandler = (error: unknown, _request, response, next) => {
  if (response.headersSent) {
    next(error);
    return;
  }
  const failure = asFailure(error);
  response.status(statusOf[failure.code] ?? (failure.code === 'server/fault' ? 500 : 400)).json(toAccount(failure));
};

function asFailure(error: unknown): Failure {
  if (error instanceof Failure) return error;
  const { code, type, status } = error as { code?: string; type?: string; status?: number };
  if (code === 'ENOSPC' || code === 'EDQUOT')
    return new Failure(
      'store/full-disk',
      'The disk is full; this save was not written, the one before it is whole.',
      { stage: 'store' },
      'Make room on the disk; Plastron saves again by itself.',
      error,
    );
  if (type === 'entity.too.large')
    return new Failure(
      'server/too-large',
      'The file is larger than the server takes.',
      { stage: 'server' },
      'Simplify the scan, or save it in a binary format.',
      error,
    );
  if (status !== undefined && status >= 400 && status < 500)
    return new Failure('server/bad-request', 'The request could not be read.', { stage: 'server' }, 'Reload the page.', error);
  return new Failure(
    'server/fault',
    'The server made a mistake.',
    { stage: 'server' },
    'Your job is safe. Please report this with what you did.',
    error,
  );
}
