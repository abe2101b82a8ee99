/*
 * Going to a station.
 */
import { station } from '../state.ts';
import { stations } from '../stations.ts';
import type { Act } from './act.ts';

export const goActs: readonly Act[] = stations.map(({ name, title, purpose }, i): Act => ({
  id: `go-${name}`,
  title,
  group: 'Go to',
  keys: `${i + 1}`,
  words: `station ${purpose}`,
  isOn: () => station.value === name,
  run: () => (station.value = name),
}));
