import { describe, expect, it } from 'vitest';
import { versionsToDrop } from '../../../web/server/thinning.ts';

const day = 86_400_000;

describe('versionsToDrop', () => {
  it('keeps everything while there are few [invariant]', () => {
    const few = Array.from({ length: 20 }, (_, i) => ({ revision: i + 1, time: i * 1000 }));
    expect(versionsToDrop(few)).toEqual([]);
  });

  it('keeps the newest twenty and the first, fifty at the most, older ones further apart [invariant]', () => {
    const many = Array.from({ length: 3000 }, (_, i) => ({ revision: i + 1, time: (i * 60 * day) / 3000 }));
    const dropped = new Set(versionsToDrop(many));
    const kept = many.filter((version) => !dropped.has(version.revision));
    expect(kept.length).toBeLessThanOrEqual(50);
    expect(kept.length).toBeGreaterThan(30);
    expect(kept[0].revision).toBe(1);
    expect(kept.slice(-20).map((version) => version.revision)).toEqual(Array.from({ length: 20 }, (_, i) => 2981 + i));
    const newest = 60 * day * (2999 / 3000);
    const old = kept.slice(1).filter((version) => newest - version.time > 2 * day);
    const gaps = old.slice(1).map((version, i) => version.time - old[i].time);
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(day / 4);
  });
});
