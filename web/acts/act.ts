/*
 * The contract of an act: something that can be asked of the bench by menu, palette or key. One table feeds all three.
 */

export type ActGroup = 'Job' | 'Edit' | 'Draw' | 'Look' | 'Go to' | 'Help';

export interface Act {
  readonly id: string;
  readonly title: string;
  readonly group: ActGroup;
  /** `Ctrl+Shift+Z`, `B`, `?`. Ctrl stands for the command key where there is one. */
  readonly keys?: string;
  /** Further words to find it by. */
  readonly words?: string;
  readonly isReady?: () => boolean;
  /** For acts that switch something. */
  readonly isOn?: () => boolean;
  readonly run: () => void;
}

export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/** True for keys without Ctrl or Alt: they must not fire while someone types. */
export const isSingleKey = (keys: string): boolean => !/^(Ctrl|Alt)\+/.test(keys);

/** Whether a press is what `keys` says. Shift counts only where it is named: `?` needs it on some keyboards and not on others. */
export function isPressed(keys: string, press: KeyPress): boolean {
  const parts = keys.split('+');
  const name = parts.at(-1) === '' ? '+' : (parts.at(-1) ?? '');
  const wants = (part: string): boolean => parts.slice(0, -1).includes(part);
  const isCtrl = press.ctrlKey || press.metaKey;
  if (wants('Ctrl') !== isCtrl || wants('Alt') !== press.altKey) return false;
  const isLetter = /^[a-z]$/i.test(name);
  if ((isLetter || name.length > 1) && wants('Shift') !== press.shiftKey) return false;
  return press.key.toLowerCase() === name.toLowerCase();
}

/** What can be asked now, best match first: every typed word must begin a word of title, group or further words. */
export function findActs(acts: readonly Act[], typed: string): Act[] {
  const words = split(typed);
  const scored = acts.flatMap((act) => {
    const inTitle = split(act.title);
    const all = [...inTitle, ...split(act.group), ...split(act.words ?? '')];
    let score = 0;
    for (const word of words) {
      if (inTitle.some((known) => known.startsWith(word))) score += inTitle[0].startsWith(word) ? 3 : 2;
      else if (all.some((known) => known.startsWith(word))) score += 1;
      else return [];
    }
    return [{ act, score }];
  });
  return scored.sort((a, b) => b.score - a.score).map(({ act }) => act);
}

const split = (text: string): string[] =>
  text
    .toLowerCase()
    .split(/[^\p{L}\p{N}%]+/u)
    .filter((word) => word !== '');
