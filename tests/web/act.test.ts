import { describe, expect, it } from 'vitest';
import type { Act, KeyPress } from '../../web/acts/act.ts';
import { findActs, isPressed, isSingleKey } from '../../web/acts/act.ts';

const press = (key: string, held: Partial<KeyPress> = {}): KeyPress => ({
  key,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...held,
});
const act = (title: string, words?: string): Act => ({
  id: title,
  title,
  group: 'Draw',
  run: () => undefined,
  ...(words === undefined ? {} : { words }),
});

describe('isPressed', () => {
  it('takes Ctrl and the command key for the same, and nothing else [invariant]', () => {
    expect(isPressed('Ctrl+Z', press('z', { ctrlKey: true }))).toBe(true);
    expect(isPressed('Ctrl+Z', press('z', { metaKey: true }))).toBe(true);
    expect(isPressed('Ctrl+Z', press('z'))).toBe(false);
    expect(isPressed('Ctrl+Z', press('Z', { ctrlKey: true, shiftKey: true }))).toBe(false);
    expect(isPressed('Ctrl+Shift+Z', press('Z', { ctrlKey: true, shiftKey: true }))).toBe(true);
    expect(isPressed('B', press('b', { altKey: true }))).toBe(false);
  });

  it('finds signs on keyboards that need Shift for them and on those that do not [invariant]', () => {
    expect(isPressed('?', press('?', { shiftKey: true }))).toBe(true);
    expect(isPressed('?', press('?'))).toBe(true);
    expect(isPressed(']', press(']'))).toBe(true);
  });

  it('knows which keys fire without Ctrl or Alt [invariant]', () => {
    expect(['B', '?', 'Shift+A', 'Delete'].every(isSingleKey)).toBe(true);
    expect(['Ctrl+K', 'Alt+1', 'Ctrl+Shift+Z'].some(isSingleKey)).toBe(false);
  });
});

describe('findActs', () => {
  const acts = [act('Undo', 'back'), act('Draw a seam'), act('See the back'), act('Brush', 'paint')];

  it('wants every typed word at the beginning of a word [invariant]', () => {
    expect(findActs(acts, 'sea').map(({ title }) => title)).toEqual(['Draw a seam']);
    expect(findActs(acts, 'dra sea').map(({ title }) => title)).toEqual(['Draw a seam']);
    expect(findActs(acts, 'eam')).toEqual([]);
  });

  it('puts a word of the title before a further word [invariant]', () => {
    expect(findActs(acts, 'back').map(({ title }) => title)).toEqual(['See the back', 'Undo']);
  });

  it('shows everything for nothing typed [invariant]', () => {
    expect(findActs(acts, '  ')).toEqual(acts);
  });
});
