/*
 * A worker without a thread, for tests.
 */
import type { WorkerLike } from '../../worker/client.ts';
import { createHost } from '../../worker/host.ts';
import type { Ask } from '../../worker/protocol.ts';

/** A worker in the same thread; messages are cloned as a real one would. */
export function threadless(): WorkerLike {
  let isEnded = false;
  const worker: WorkerLike = {
    onmessage: null,
    onerror: null,
    terminate: () => {
      isEnded = true;
    },
    postMessage: (message) => {
      const ask = structuredClone(message) as Ask;
      queueMicrotask(() => host.receive(ask));
    },
  };
  const host = createHost(
    (tell) => {
      if (!isEnded) worker.onmessage?.({ data: structuredClone(tell) });
    },
    { now: () => performance.now(), pause: () => new Promise((resolve) => setImmediate(resolve)) },
  );
  return worker;
}
