/*
 * The finder: type a few letters of what you want to do.
 */
import { useId, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import type { Act } from '../acts/act.ts';
import { findActs } from '../acts/act.ts';
import { acts, runAct } from '../acts/index.ts';
import { showKeys } from '../acts/keys.ts';
import { dialog } from '../state.ts';

export function Palette(): JSX.Element {
  const id = useId();
  const [typed, setTyped] = useState('');
  const [at, setAt] = useState(0);
  const found = findActs(
    acts.filter((entry) => entry.id !== 'redo-y' && entry.id !== 'palette'),
    typed,
  );
  const chosen = Math.min(at, found.length - 1);

  function take(entry: Act | undefined): void {
    if (!entry || entry.isReady?.() === false) return;
    dialog.value = undefined;
    // The dialog gives the focus back first.
    setTimeout(() => runAct(entry));
  }

  const onKeyDown = (event: { readonly key: string; preventDefault: () => void }): void => {
    if (event.key === 'ArrowDown') setAt(Math.min(found.length - 1, chosen + 1));
    else if (event.key === 'ArrowUp') setAt(Math.max(0, chosen - 1));
    else if (event.key === 'Enter') take(found[chosen]);
    else return;
    event.preventDefault();
  };

  return (
    <>
      <input
        type="text"
        role="combobox"
        aria-label="What would you like to do?"
        aria-expanded="true"
        aria-controls={id}
        aria-activedescendant={chosen >= 0 ? `${id}-${chosen}` : undefined}
        autocomplete="off"
        placeholder="What would you like to do?"
        value={typed}
        // The native dialog puts the focus on what carries this.
        autofocus
        onInput={(event) => {
          setTyped(event.currentTarget.value);
          setAt(0);
        }}
        onKeyDown={onKeyDown}
      />
      <ul role="listbox" id={id} aria-label="Acts">
        {found.map((entry, i) => (
          <li
            key={entry.id}
            id={`${id}-${i}`}
            role="option"
            aria-selected={i === chosen}
            aria-disabled={entry.isReady?.() === false}
            ref={(element) => {
              if (i === chosen) element?.scrollIntoView({ block: 'nearest' });
            }}
            onPointerMove={() => setAt(i)}
            onClick={() => take(entry)}
          >
            <span>{entry.title}</span>
            <small>
              {entry.group}
              {entry.isOn?.() === true ? ' · on' : ''}
            </small>
            {entry.keys !== undefined && <kbd>{showKeys(entry.keys)}</kbd>}
          </li>
        ))}
        {found.length === 0 && <li class="none">Nothing is called that. Try “seam”, “undo” or “files”.</li>}
      </ul>
    </>
  );
}
