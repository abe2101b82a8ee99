/*
 * Which versions of a job are let go: the newest ones all stay, older ones ever more sparsely, fifty in all at the most.
 */

export interface VersionTime {
  readonly revision: number;
  /** Milliseconds. */
  readonly time: number;
}

const keptInAll = 50;
const keptNewest = 20;
const hour = 3_600_000;

/** Least time between two kept versions, by age of the older one. */
const gapAt = (age: number): number => (age < hour ? 0 : age < 24 * hour ? hour / 4 : age < 30 * 24 * hour ? 6 * hour : 7 * 24 * hour);

/** Revisions to remove. The newest twenty and the very first always stay. */
export function versionsToDrop(versions: readonly VersionTime[]): number[] {
  const byAge = [...versions].sort((a, b) => b.revision - a.revision);
  const [first] = byAge.slice(-1);
  const newest = byAge[0]?.time ?? 0;
  const kept: VersionTime[] = [];
  for (const version of byAge) {
    const previous = kept.at(-1);
    const isNew = kept.length < keptNewest;
    const isSpaced = !previous || previous.time - version.time >= gapAt(newest - version.time);
    if (version === first || isNew || (isSpaced && kept.length < keptInAll - 1)) kept.push(version);
  }
  const keptRevisions = new Set(kept.map((version) => version.revision));
  return byAge.filter((version) => !keptRevisions.has(version.revision)).map((version) => version.revision);
}
