/*
 * A menu of acts: a button and its popover, walked with the arrow keys; the keys stand beside the words.
 */
import { useId, useRef } from 'preact/hooks';
import type { JSX } from 'preact';
import type { Act, ActGroup } from '../acts/act.ts';
import { acts, runAct } from '../acts/index.ts';
import { showKeys } from '../acts/keys.ts';
import { Icon } from '../fields/icons.tsx';

interface MenuProps {
  readonly title: string;
  readonly groups: readonly ActGroup[];
}

export function Menu({ title, groups }: MenuProps): JSX.Element {
  const id = useId();
  const list = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);

  const items = (): HTMLButtonElement[] => [...(list.current?.querySelectorAll<HTMLButtonElement>('[role^=menuitem]') ?? [])];

  function walk(event: { readonly key: string; preventDefault: () => void }): void {
    const all = items();
    const at = all.findIndex((item) => item === document.activeElement);
    const to: Readonly<Record<string, number | undefined>> = {
      ArrowDown: (at + 1) % all.length,
      ArrowUp: (at + all.length - 1) % all.length,
      Home: 0,
      End: all.length - 1,
    };
    const next = to[event.key];
    if (next === undefined) {
      if (event.key.length !== 1) return;
      all.find((item) => item.textContent.trim().toLowerCase().startsWith(event.key.toLowerCase()))?.focus();
      return;
    }
    all[next]?.focus();
    event.preventDefault();
  }

  function place(): void {
    const box = button.current?.getBoundingClientRect();
    if (!box || !list.current) return;
    list.current.style.left = `${Math.min(box.left, innerWidth - 340)}px`;
    list.current.style.top = `${box.bottom + 4}px`;
  }

  function take(act: Act): void {
    list.current?.hidePopover();
    button.current?.focus();
    runAct(act);
  }

  return (
    <>
      <button
        ref={button}
        type="button"
        class="quiet"
        popoverTarget={id}
        aria-haspopup="menu"
        onKeyDown={(event) => {
          if (event.key !== 'ArrowDown') return;
          list.current?.showPopover();
          event.preventDefault();
        }}
      >
        {title}
      </button>
      <div
        ref={list}
        id={id}
        popover="auto"
        role="menu"
        aria-label={title}
        class="menu"
        onToggle={(event) => {
          if (!(event instanceof ToggleEvent) || event.newState !== 'open') return;
          place();
          items()[0]?.focus();
        }}
        onKeyDown={walk}
      >
        {groups.map((group, i) => (
          <div key={group} role="group" aria-label={group}>
            {groups.length > 1 && (
              <div class={`menu-head${i > 0 ? ' later' : ''}`} aria-hidden="true">
                {group}
              </div>
            )}
            {acts
              .filter((entry) => entry.group === group && entry.id !== 'redo-y')
              .map((entry) => (
                <MenuItem key={entry.id} act={entry} onTake={() => take(entry)} />
              ))}
          </div>
        ))}
      </div>
    </>
  );
}

function MenuItem({ act, onTake }: { readonly act: Act; readonly onTake: () => void }): JSX.Element {
  const isOn = act.isOn?.();
  return (
    <button
      type="button"
      role={isOn === undefined ? 'menuitem' : 'menuitemcheckbox'}
      {...(isOn === undefined ? {} : { 'aria-checked': isOn })}
      tabIndex={-1}
      disabled={act.isReady?.() === false}
      onClick={onTake}
    >
      <span class="check">{isOn === true && <Icon name="tick" />}</span>
      <span>{act.title}</span>
      {act.keys !== undefined && <kbd aria-hidden="true">{showKeys(act.keys)}</kbd>}
    </button>
  );
}
