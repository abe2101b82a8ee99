/*
 * The stations as marks on a tape measure across the top. What a station's stage is doing shows beside its name, in words for the ear.
 */
import { useRef } from 'preact/hooks';
import type { JSX } from 'preact';
import { openJob, stages, station } from '../state.ts';
import type { Station } from '../stations.ts';
import { stations } from '../stations.ts';

const stageWords = { empty: 'not worked out', working: 'being worked out', ready: 'ready', failed: 'needs you' } as const;

export function Tape(): JSX.Element {
  const list = useRef<HTMLDivElement>(null);
  function walk(event: { readonly key: string; preventDefault: () => void }): void {
    const at = stations.findIndex(({ name }) => name === station.value);
    const to =
      event.key === 'ArrowRight'
        ? at + 1
        : event.key === 'ArrowLeft'
          ? at - 1
          : event.key === 'Home'
            ? 0
            : event.key === 'End'
              ? stations.length - 1
              : -1;
    if (to < 0 || to >= stations.length) return;
    station.value = stations[to].name;
    list.current?.querySelectorAll<HTMLButtonElement>('[role=tab]')[to]?.focus();
    event.preventDefault();
  }
  return (
    <nav class="tape" aria-label="Stations">
      <TapeMarks />
      <div role="tablist" aria-label="Stations" ref={list} onKeyDown={walk}>
        {stations.map((entry, i) => (
          <StationTab key={entry.name} entry={entry} number={i + 1} />
        ))}
      </div>
    </nav>
  );
}

function StationTab({ entry, number }: { readonly entry: Station; readonly number: number }): JSX.Element {
  const isHere = station.value === entry.name;
  const { status } = stages.value[entry.stage];
  return (
    <button
      type="button"
      role="tab"
      id={`tab-${entry.name}`}
      aria-selected={isHere}
      aria-controls="panel"
      tabIndex={isHere ? 0 : -1}
      title={entry.purpose}
      class={openJob.value ? status : 'empty'}
      onClick={() => (station.value = entry.name)}
    >
      <span class="number" aria-hidden="true">
        {number}
      </span>
      <span>{entry.title}</span>
      {openJob.value && entry.name !== 'print' && (
        <span class="state">
          <span class="unseen">, {stageWords[status]}</span>
        </span>
      )}
    </button>
  );
}

/** Marks of the tape: short, half, and long with its number, as printed on the real thing. */
function TapeMarks(): JSX.Element {
  const centimetres = Array.from({ length: 64 }, (_, i) => i);
  return (
    <svg class="marks" aria-hidden="true" focusable="false" height="48" width="2560">
      {centimetres.map((cm) => (
        <g key={cm} transform={`translate(${cm * 40} 0)`}>
          <path d={tickPath} />
          <text x="4" y="22">
            {cm === 0 ? '' : cm % 10 === 0 ? cm : cm % 10}
          </text>
        </g>
      ))}
    </svg>
  );
}

const tickPath = Array.from({ length: 10 }, (_, i) => `M${i * 4 + 0.5} 0v${i === 0 ? 13 : i === 5 ? 9 : 5}`).join('');
