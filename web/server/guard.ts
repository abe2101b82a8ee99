/*
 * Who may talk to the server: pages of this server only (Host and Origin checked against DNS rebinding and foreign pages), and over the
 * workshop's network only with the token printed at start.
 */
import { timingSafeEqual } from 'node:crypto';
import type { RequestHandler } from 'express';
import { Failure } from '../../src/base/failure.ts';

const loopbackNames = ['127.0.0.1', 'localhost', '[::1]'];

export interface GuardOptions {
  readonly port: () => number;
  /** Further host names that the maker opened the server to. */
  readonly hosts: readonly string[];
  readonly token?: string;
}

/** Refuses requests for another host name, and from pages of another origin. */
export function guardOrigin(options: GuardOptions): RequestHandler {
  return (request, _response, next) => {
    const allowed = new Set(
      [...loopbackNames, ...options.hosts].flatMap((name) => [`${name}:${options.port()}`, ...(options.port() === 80 ? [name] : [])]),
    );
    const host = request.headers.host ?? '';
    if (!allowed.has(host.toLowerCase()))
      throw new Failure(
        'server/wrong-host',
        `This server does not answer for "${host.slice(0, 100)}".`,
        { stage: 'server' },
        'Open the address that was printed at start.',
      );
    const { origin } = request.headers;
    if (origin !== undefined && !allowed.has(origin.replace(/^https?:\/\//, '').toLowerCase()))
      throw new Failure(
        'server/wrong-origin',
        'Another page may not use this server.',
        { stage: 'server' },
        'Open Plastron at the address that was printed at start.',
      );
    if (request.headers['sec-fetch-site'] === 'cross-site')
      throw new Failure(
        'server/wrong-origin',
        'Another page may not use this server.',
        { stage: 'server' },
        'Open Plastron at the address that was printed at start.',
      );
    next();
  };
}

/** Demands the token, where there is one. */
export function guardToken(token: string | undefined): RequestHandler {
  return (request, _response, next) => {
    const given = request.get('x-plastron-token') ?? '';
    if (token !== undefined && !isSame(given, token))
      throw new Failure(
        'server/token',
        'The token is missing or wrong.',
        { stage: 'server' },
        'Open the whole address that was printed at start, with its token.',
      );
    next();
  };
}

function isSame(given: string, token: string): boolean {
  const a = Buffer.from(given);
  const b = Buffer.from(token);
  return a.length === b.length && timingSafeEqual(a, b);
}
