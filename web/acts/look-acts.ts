/*
 * How the bench is looked at. None of it is undone, none of it is kept in the job.
 */
import { bodyScene } from '../body-view/current-scene.ts';
import { looks } from '../body-view/view-bar.tsx';
import {
  areSingleKeysOn,
  coloursBy,
  dialog,
  foldBack,
  isBodyShown,
  isBothSides,
  isStrainShown,
  isSwapped,
  openJob,
  theme,
} from '../state.ts';
import { isDark } from '../theme.ts';
import type { Act } from './act.ts';

const hasJob = (): boolean => openJob.value !== undefined;

export const lookActs: readonly Act[] = [
  ...looks.map(({ name, words }, i): Act => ({
    id: `look-${name}`,
    title: words,
    group: 'Look',
    keys: `Alt+${i + 1}`,
    isReady: hasJob,
    run: () => bodyScene.value?.look(name),
  })),
  {
    id: 'whole',
    title: 'See the whole body',
    group: 'Look',
    keys: 'Home',
    words: 'fit zoom',
    isReady: hasJob,
    run: () => bodyScene.value?.fitBody(),
  },
  {
    id: 'strain',
    title: 'Colour by how much the foam must stretch',
    group: 'Look',
    keys: 'Shift+S',
    words: 'strain map areas',
    isReady: hasJob,
    isOn: () => isStrainShown.value,
    run: () => (coloursBy.value = isStrainShown.value ? 'area' : 'strain'),
  },
  {
    id: 'body-shown',
    title: 'Show the body',
    group: 'Look',
    words: 'hide parts only',
    isReady: hasJob,
    isOn: () => isBodyShown.value,
    run: () => (isBodyShown.value = !isBodyShown.value),
  },
  {
    id: 'fold',
    title: 'Fold the parts back onto the body',
    group: 'Look',
    words: 'unfold flat',
    isReady: hasJob,
    isOn: () => foldBack.value > 0.5,
    run: () => (foldBack.value = foldBack.value > 0.5 ? 0 : 1),
  },
  {
    id: 'both',
    title: 'Both sides on the paper',
    group: 'Look',
    words: 'left right pairs',
    isReady: hasJob,
    isOn: () => isBothSides.value,
    run: () => (isBothSides.value = !isBothSides.value),
  },
  {
    id: 'swap',
    title: 'Swap body and paper',
    group: 'Look',
    words: 'panes',
    isOn: () => isSwapped.value,
    run: () => (isSwapped.value = !isSwapped.value),
  },
  {
    id: 'dark',
    title: 'Dark bench',
    group: 'Look',
    words: 'theme light night',
    isOn: () => isDark.value,
    run: () => (theme.value = isDark.value ? 'light' : 'dark'),
  },
  {
    id: 'system-theme',
    title: 'Bench as light as the system',
    group: 'Look',
    words: 'theme',
    isOn: () => theme.value === 'system',
    run: () => (theme.value = 'system'),
  },
  {
    id: 'single-keys',
    title: 'Tools by a single key',
    group: 'Help',
    words: 'keyboard shortcuts accessibility',
    isOn: () => areSingleKeysOn.value,
    run: () => (areSingleKeysOn.value = !areSingleKeysOn.value),
  },
  {
    id: 'palette',
    title: 'Find an act …',
    group: 'Help',
    keys: 'Ctrl+K',
    words: 'command search palette',
    run: () => (dialog.value = 'palette'),
  },
  { id: 'keys', title: 'Keys …', group: 'Help', keys: '?', words: 'keyboard shortcuts list', run: () => (dialog.value = 'keys') },
  {
    id: 'about',
    title: 'What this is, and what it is not …',
    group: 'Help',
    words: 'about safety privacy',
    run: () => (dialog.value = 'about'),
  },
];
