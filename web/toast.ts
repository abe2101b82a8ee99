/*
 * Short words about what just happened. Failures stay until they are sent away; the rest leaves by itself.
 */
import type { Account } from '../src/base/failure.ts';
import { Failure } from '../src/base/failure.ts';
import type { Toast } from './state.ts';
import { toasts } from './state.ts';

const stayMs = 6000;
let next = 1;

export function say(severity: Toast['severity'], what: string, mend?: string): void {
  const id = next++;
  const isRepeated = toasts.value.some((toast) => toast.what === what);
  if (isRepeated) return;
  toasts.value = [...toasts.value.slice(-3), { id, severity, what, ...(mend === undefined ? {} : { mend }) }];
  if (severity !== 'severe') setTimeout(() => dismiss(id), stayMs);
}

export function dismiss(id: number): void {
  toasts.value = toasts.value.filter((toast) => toast.id !== id);
}

export const sayAccount = (account: Account): void => say('severe', account.what, account.mend);

/** Says a Failure; anything else is a fault of the program and is thrown on. Stopped work says nothing. */
export function sayFailure(error: unknown): void {
  if (!(error instanceof Failure)) throw error;
  if (error.code !== 'run/stopped') sayAccount(error);
}
