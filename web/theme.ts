/*
 * Light bench or dark bench: the maker's choice, else the system's.
 */
import { computed, effect, signal } from '@preact/signals';
import { theme } from './state.ts';

const system = matchMedia('(prefers-color-scheme: dark)');
const isSystemDark = signal(system.matches);
system.addEventListener('change', (event) => (isSystemDark.value = event.matches));

export const isDark = computed(() => (theme.value === 'system' ? isSystemDark.value : theme.value === 'dark'));

export function dressPage(): void {
  effect(() => {
    document.documentElement.dataset.bench = isDark.value ? 'dark' : 'light';
  });
}
