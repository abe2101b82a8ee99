/*
 * Binds the host to a browser's worker scope.
 */
import { createHost } from './host.ts';
import type { Ask } from './protocol.ts';
import { transferables } from './transfer.ts';

/** The part of a dedicated worker's scope that is used; the DOM library types `self` as a window. */
interface WorkerScope {
  onmessage: ((event: MessageEvent<Ask>) => void) | null;
  postMessage: (message: unknown, transfer: Transferable[]) => void;
}

const scope = self as unknown as WorkerScope;

const host = createHost((tell) => scope.postMessage(tell, transferables(tell)), {
  now: () => performance.now(),
  // A message channel yields to the queue at once; setTimeout is held back to 4 ms.
  pause: () =>
    new Promise((resolve) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        port1.close();
        resolve();
      };
      port2.postMessage(undefined);
    }),
});

scope.onmessage = (event) => host.receive(event.data);
host.warmUp();
