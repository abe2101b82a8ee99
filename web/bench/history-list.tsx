/*
 * Every step of this sitting by name; any of them can be gone back to.
 */
import { useId, useRef } from 'preact/hooks';
import type { JSX } from 'preact';
import { goToStep } from '../desk.ts';
import { Icon } from '../fields/icons.tsx';
import { history } from '../state.ts';

export function HistoryList(): JSX.Element {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLDivElement>(null);
  const steps = history.value;
  const place = (): void => {
    const box = button.current?.getBoundingClientRect();
    if (!box || !list.current) return;
    list.current.style.top = `${box.bottom + 4}px`;
    list.current.style.left = `${Math.min(box.left, innerWidth - 320)}px`;
  };
  return (
    <>
      <button ref={button} type="button" popoverTarget={id} disabled={!steps} aria-label="History" title="History: every step by name">
        <Icon name="history" />
      </button>
      <div ref={list} id={id} popover="auto" class="menu history" role="dialog" aria-label="History" onToggle={place}>
        <ol>
          {steps?.future
            .map((entry, i) => ({ entry, by: -(i + 1) }))
            .reverse()
            .map(({ entry, by }) => (
              <li key={by} class="undone">
                <button type="button" onClick={() => goToStep(by)}>
                  {entry.title} <small>undone</small>
                </button>
              </li>
            ))}
          {steps && (
            <li aria-current="step">
              <button type="button" disabled>
                {steps.present.title} <small>now</small>
              </button>
            </li>
          )}
          {steps?.past
            .map((entry, i) => ({ entry, by: steps.past.length - i }))
            .reverse()
            .map(({ entry, by }) => (
              <li key={by}>
                <button type="button" onClick={() => goToStep(by)}>
                  {entry.title}
                </button>
              </li>
            ))}
        </ol>
      </div>
    </>
  );
}
