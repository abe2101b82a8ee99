/*
 * Everything that deserves the maker's eye, worst first. Each one points at its place and offers the act that mends it.
 */
import { useId, useRef } from 'preact/hooks';
import type { JSX } from 'preact';
import type { Finding, Severity } from '../../src/base/failure.ts';
import { Icon } from '../fields/icons.tsx';
import { findings } from '../state.ts';
import { showPlace } from '../show-place.ts';
import { mendFor } from '../mend-acts.ts';

const order: readonly Severity[] = ['severe', 'warning', 'note'];
const severityWords: Readonly<Record<Severity, readonly [string, string]>> = {
  severe: ['must be mended', 'must be mended'],
  warning: ['warning', 'warnings'],
  note: ['note', 'notes'],
};

export function FindingsList(): JSX.Element | null {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLDivElement>(null);
  const all = findings.value;
  if (all.length === 0) return null;
  const place = (): void => {
    const box = button.current?.getBoundingClientRect();
    if (!box || !list.current) return;
    list.current.style.left = `${box.left}px`;
    list.current.style.bottom = `${innerHeight - box.top + 6}px`;
    list.current.style.top = 'auto';
  };
  const counts = order.map((severity) => ({ severity, count: all.filter((entry) => entry.severity === severity).length }));
  return (
    <>
      <button ref={button} type="button" class="findings-button" popoverTarget={id}>
        {counts
          .filter(({ count }) => count > 0)
          .map(({ severity, count }) => (
            <span key={severity} class={severity}>
              <Icon name={severity} /> {count} {severityWords[severity][count === 1 ? 0 : 1]}
            </span>
          ))}
      </button>
      <div ref={list} id={id} popover="auto" class="menu findings" role="dialog" aria-label="Findings" onToggle={place}>
        <ul>
          {[...all]
            .sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity))
            .map((entry, i) => (
              <FindingItem key={`${entry.code} ${i}`} entry={entry} onLeave={() => list.current?.hidePopover()} />
            ))}
        </ul>
      </div>
    </>
  );
}

function FindingItem({ entry, onLeave }: { readonly entry: Finding; readonly onLeave: () => void }): JSX.Element {
  const { where } = entry;
  const hasPlace = where.at !== undefined || where.faces !== undefined || where.item !== undefined || where.stage !== undefined;
  const mend = mendFor(entry);
  return (
    <li class={entry.severity}>
      <Icon name={entry.severity} />
      <div>
        <p>
          <span class="unseen">{severityWords[entry.severity][0]}: </span>
          {entry.what}
        </p>
        <p class="mend">{entry.mend}</p>
        <div class="row">
          {hasPlace && (
            <button
              type="button"
              onClick={() => {
                onLeave();
                showPlace(where);
              }}
            >
              Show me
            </button>
          )}
          {mend && (
            <button
              type="button"
              class="act"
              onClick={() => {
                onLeave();
                mend.run();
              }}
            >
              {mend.title}
            </button>
          )}
          <code>{entry.code}</code>
        </div>
      </div>
    </li>
  );
}
