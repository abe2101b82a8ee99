/*
 * How a maker likes the bench, kept by the browser. A browser that keeps nothing is no fault.
 */
import type { Signal } from '@preact/signals';
import { effect, signal } from '@preact/signals';

const prefix = 'plastron:';

function read(key: string): unknown {
  try {
    const text = localStorage.getItem(prefix + key);
    return text === null ? undefined : (JSON.parse(text) as unknown);
  } catch {
    return undefined;
  }
}

function write(key: string, value: unknown): void {
  try {
    localStorage.setItem(prefix + key, JSON.stringify(value));
  } catch {
    // Private windows and full quotas: the preference lives as long as the page.
  }
}

/** A signal that outlives the page. A kept value of another type than the default's is forgotten. */
export function remembered<Value>(key: string, start: Value): Signal<Value> {
  const known = read(key);
  const isSameType = typeof known === typeof start && Array.isArray(known) === Array.isArray(start);
  const value = signal<Value>(isSameType ? (known as Value) : start);
  let isFirst = true;
  effect(() => {
    const now = value.value;
    if (!isFirst) write(key, now);
    isFirst = false;
  });
  return value;
}
