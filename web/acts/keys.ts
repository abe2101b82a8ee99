/*
 * Keys of the whole page. Single letters rest while someone types, while a dialog is open, or when the maker has switched them off.
 */
import { areSingleKeysOn, dialog } from '../state.ts';
import { isPressed, isSingleKey } from './act.ts';
import { acts, runAct } from './index.ts';

function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement) return !['checkbox', 'radio', 'range', 'button'].includes(target.type);
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement || target.isContentEditable;
}

export function listenToKeys(): void {
  window.addEventListener('keydown', (event) => {
    if (event.defaultPrevented || dialog.value !== undefined) return;
    const isText = isTyping(event.target);
    const found = acts.find(({ keys }) => {
      if (keys === undefined || !isPressed(keys, event)) return false;
      if (!isSingleKey(keys)) return !isText || !/^Ctrl\+(Shift\+)?Z$|^Ctrl\+Y$/.test(keys);
      return !isText && areSingleKeysOn.value;
    });
    if (!found) return;
    event.preventDefault();
    runAct(found);
  });
}

/** Keys as this machine's keyboard names them. */
export function showKeys(keys: string): string {
  const isMac = /Mac|iPhone|iPad/.test(navigator.userAgent);
  return keys
    .replace('Ctrl', isMac ? '⌘' : 'Ctrl')
    .replace('Alt', isMac ? '⌥' : 'Alt')
    .split('+')
    .join(isMac ? '' : ' ');
}
