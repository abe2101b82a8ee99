/*
 * Ready-made looks at the body.
 */
import type { JSX } from 'preact';
import { isBodyShown } from '../state.ts';
import { bodyScene } from './current-scene.ts';
import type { ViewName } from './orbit.ts';

export const looks: readonly { readonly name: ViewName; readonly title: string; readonly words: string }[] = [
  { name: 'front', title: 'Front', words: 'See the front' },
  { name: 'left', title: 'Left', words: 'See the wearer’s left' },
  { name: 'right', title: 'Right', words: 'See the wearer’s right' },
  { name: 'back', title: 'Back', words: 'See the back' },
  { name: 'above', title: 'Above', words: 'See it from above' },
];

export function ViewBar(): JSX.Element {
  return (
    <div class="view-bar" role="toolbar" aria-label="Look at the body from">
      {looks.map(({ name, title, words }) => (
        <button key={name} type="button" title={words} aria-label={words} onClick={() => bodyScene.value?.look(name)}>
          {title}
        </button>
      ))}
      <button type="button" title="The whole body" onClick={() => bodyScene.value?.fitBody()}>
        Whole
      </button>
      <button
        type="button"
        aria-pressed={!isBodyShown.value}
        title="Parts without the body"
        onClick={() => (isBodyShown.value = !isBodyShown.value)}
      >
        Parts only
      </button>
    </div>
  );
}
