import { describe, expect, it } from 'vitest';
import { newJob } from '../../src/job/schema.ts';
import { createStore } from '../../web/store.ts';

interface Asked {
  readonly path: string;
  readonly init: RequestInit;
}

/** A store whose server answers one thing. */
function storeThatHears(
  answer: () => Response,
  token?: string,
): { readonly store: ReturnType<typeof createStore>; readonly asked: Asked[] } {
  const asked: Asked[] = [];
  const store = createStore(token, async (path, init) => {
    asked.push({ path, init });
    return answer();
  });
  return { store, asked };
}

const json = (value: unknown, status = 200): Response => new Response(JSON.stringify(value), { status });

describe('createStore', () => {
  it('sends the token with every request, where there is one [contract of the server]', async () => {
    const { store, asked } = storeThatHears(() => json([]), 'secret');
    await store.list();
    expect((asked[0].init.headers as Record<string, string>)['x-plastron-token']).toBe('secret');
    const open = storeThatHears(() => json([]));
    await open.store.list();
    expect(open.asked[0].init.headers).not.toHaveProperty('x-plastron-token');
  });

  it('saves on the number of the save that it was opened at [contract of the server]', async () => {
    const { store, asked } = storeThatHears(() => json({ revision: 8 }));
    const job = newJob('a', 'body.obj', '2026-11-25');
    expect(await store.save('a b', job, 7)).toBe(8);
    expect(asked[0]).toMatchObject({ path: 'api/jobs/a%20b', init: { method: 'PUT' } });
    expect(JSON.parse(asked[0].init.body as string)).toEqual({ job, revision: 7 });
  });

  it('throws the server’s own account [contract of the server]', async () => {
    const { store } = storeThatHears(() => json({ code: 'store/conflict', what: 'Another window.', where: {}, mend: 'Choose.' }, 409));
    await expect(store.revision('x')).rejects.toMatchObject({ code: 'store/conflict', mend: 'Choose.' });
  });

  it('says so when no server answers, and when it answers nothing that can be read [invariant]', async () => {
    const silent = createStore(undefined, () => Promise.reject(new TypeError('refused')));
    await expect(silent.list()).rejects.toMatchObject({ code: 'page/no-server' });
    const { store } = storeThatHears(() => new Response('<html>', { status: 502 }));
    await expect(store.list()).rejects.toMatchObject({ code: 'page/server-answer' });
  });

  it('puts names of files into the query, never into the path [invariant]', async () => {
    const { store, asked } = storeThatHears(() => json({ id: 'x' }));
    await store.create('My job', '../../etc/scan & co.obj', new Uint8Array([1]));
    expect(asked[0].path.startsWith('api/jobs?')).toBe(true);
    expect(new URLSearchParams(asked[0].path.split('?')[1]).get('file')).toBe('../../etc/scan & co.obj');
  });
});
