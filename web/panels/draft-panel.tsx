/*
 * Draft: the face that is traced, notches and bevels, allowances side by side, and whether edges meet.
 */
import type { JSX } from 'preact';
import type { DraftSettings, SideDraft } from '../../src/draft/settings.ts';
import { act } from '../desk.ts';
import { Card, ChoiceRow, SelectField, SwitchField } from '../fields/fields.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { lengthFine, showDegrees, showPercent } from '../fields/quantity.ts';
import { cut, drafted, hoverSeam, job, selection } from '../state.ts';
import { countWords, sideWords, verdictWords } from '../parts-view/part-words.ts';

const set = (change: Partial<Omit<DraftSettings, 'sides'>>): void => void act({ kind: 'set-draft', args: { change } });

export function DraftPanel(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const { tracedFace, notch, bevel } = open.draft;
  return (
    <>
      <Card title="How parts are drawn">
        <div class="field">
          <span>Traced on</span>
          <ChoiceRow
            label="Traced on"
            value={tracedFace}
            choices={[
              { value: 'inner', title: 'the inside' },
              { value: 'outer', title: 'the outside' },
            ]}
            onChange={(next) => set({ tracedFace: next })}
          />
        </div>
        <SelectField
          label="Notches"
          value={notch}
          choices={[
            { value: 'tick', title: 'pen ticks' },
            { value: 'slit', title: 'slits, in an allowance only' },
            { value: 'v', title: 'V cuts, in an allowance only' },
          ]}
          onChange={(next) => set({ notch: next })}
        />
        <SwitchField
          label="Bevels"
          note="lines and angles where the foam stands at a fold"
          isOn={bevel}
          onChange={(next) => set({ bevel: next })}
        />
      </Card>
      <SeamsCard />
      <LettersCard />
      <SidesCard />
    </>
  );
}

function SeamsCard(): JSX.Element {
  const seams = drafted.value?.seams ?? [];
  return (
    <Card title="Matching edges">
      {seams.length === 0 ? (
        <p>No seams: no edges have to meet.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Edges</th>
              <th scope="col">One</th>
              <th scope="col">Its match</th>
              <th scope="col">Difference</th>
              <th scope="col">Bevel</th>
              <th scope="col">Notches</th>
            </tr>
          </thead>
          <tbody>
            {seams.map((seam) => {
              const isChosen = selection.value?.kind === 'seam' && selection.value.id === seam.id;
              const difference = Math.abs(seam.differenceMm);
              return (
                <tr
                  key={seam.id}
                  class={isChosen ? 'chosen' : hoverSeam.value === seam.id ? 'lit' : ''}
                  onPointerEnter={() => (hoverSeam.value = seam.id)}
                  onPointerLeave={() => (hoverSeam.value = undefined)}
                >
                  <th scope="row">
                    <button
                      type="button"
                      class="link"
                      aria-pressed={isChosen}
                      onClick={() => (selection.value = isChosen ? undefined : { kind: 'seam', id: seam.id })}
                    >
                      {seam.sides[0]}–{seam.sides[1]}
                    </button>
                  </th>
                  <td>{seam.lengthsMm[0].toFixed(1)}</td>
                  <td>{seam.lengthsMm[1].toFixed(1)}</td>
                  <td class={difference > 2 ? 'wrong' : ''}>
                    {difference.toFixed(1)}&#8239;mm{difference > 2 ? ' !' : ''}
                  </td>
                  <td>{bevelWords(seam.bevelDeg)}</td>
                  <td>{seam.code}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
    </Card>
  );
}

function bevelWords({ min, max }: { readonly min: number; readonly max: number }): string {
  if (Math.abs(min) < 0.5 && Math.abs(max) < 0.5) return 'square';
  return Math.round(min) === Math.round(max) ? showDegrees(max) : `${showDegrees(min)} to ${showDegrees(max)}`;
}

function LettersCard(): JSX.Element | null {
  const parts = drafted.value?.parts ?? [];
  if (parts.length === 0) return null;
  return (
    <Card title="Parts">
      <table>
        <thead>
          <tr>
            <th scope="col">Letter</th>
            <th scope="col">Part</th>
            <th scope="col">Count</th>
            <th scope="col">Foam</th>
          </tr>
        </thead>
        <tbody>
          {parts
            .filter(({ side, pair }) => side !== 'R' || pair === undefined)
            .map((part) => {
              const isChosen = selection.value?.kind === 'part' && selection.value.id === part.id;
              return (
                <tr key={part.id} class={isChosen ? 'chosen' : ''}>
                  <td>{part.letter}</td>
                  <th scope="row">
                    <button
                      type="button"
                      class="link"
                      aria-pressed={isChosen}
                      onClick={() => (selection.value = isChosen ? undefined : { kind: 'part', id: part.id })}
                    >
                      {part.name || part.id}
                    </button>
                    {part.pair === undefined && part.side !== 'C' && <small> {sideWords[part.side]}</small>}
                  </th>
                  <td>{countWords(part.side, part.pair)}</td>
                  <td title={`worst ${showPercent(part.strain.stretch.max)}`}>{verdictWords[part.verdict]}</td>
                </tr>
              );
            })}
        </tbody>
      </table>
    </Card>
  );
}

/** Each kind of side once: an area at a line, or its own finished edge. */
function SidesCard(): JSX.Element | null {
  const open = job.value;
  const patches = cut.value?.patches ?? [];
  if (!open || patches.length === 0) return null;
  const seen = new Map<string, { readonly area: string; readonly line: string; readonly isSeam: boolean }>();
  for (const { area, sides } of patches)
    for (const side of sides) {
      const line = (side.line ?? 'border').replace(/:mirror$/, '');
      seen.set(`${area} ${line}`, { area, line, isSeam: side.seam !== undefined });
    }
  const nameOf = new Map(open.marks.areas.map(({ id, name }) => [id, name || id]));
  return (
    <Card title="Edges one by one">
      <p class="small">Allowance: foam left outside the seam. Take in: what a fitting showed is too much; each edge loses half.</p>
      <table class="sides">
        <thead>
          <tr>
            <th scope="col">Edge</th>
            <th scope="col">Allowance</th>
            <th scope="col">Take in</th>
          </tr>
        </thead>
        <tbody>
          {[...seen.values()].map(({ area, line, isSeam }) => {
            const now = open.draft.sides.find((side) => side.area === area && side.line === line) ?? {
              area,
              line,
              allowanceMm: 0,
              takeInMm: 0,
            };
            const change = (part: Partial<SideDraft>): void => void act({ kind: 'set-side', args: { side: { ...now, ...part } } });
            const words = `${nameOf.get(area) ?? area} at ${line === 'border' ? 'its finished edge' : line}`;
            return (
              <tr key={`${area} ${line}`}>
                <th scope="row">{words}</th>
                <td>
                  <NumberField
                    label={`Allowance of ${words}`}
                    isLabelHidden
                    value={now.allowanceMm}
                    quantity={lengthFine}
                    min={0}
                    max={60}
                    onChange={(allowanceMm) => change({ allowanceMm })}
                  />
                </td>
                <td>
                  <NumberField
                    label={`Take in at ${words}`}
                    isLabelHidden
                    isDisabled={!isSeam}
                    value={now.takeInMm}
                    quantity={lengthFine}
                    min={-60}
                    max={60}
                    onChange={(takeInMm) => change({ takeInMm })}
                  />
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </Card>
  );
}
