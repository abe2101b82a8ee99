/*
 * Lay flat: every part with what the foam must take, the way of laying flat, and where a further seam would help.
 */
import type { JSX } from 'preact';
import type { MethodName } from '../../src/flatten/flatten-method.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { Patch } from '../../src/patches/patch.ts';
import { act } from '../desk.ts';
import { Card, SelectField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { showCm2, showMm, showPercent } from '../fields/quantity.ts';
import { coloursBy, cut, flats, hoverSpot, isBothSides, job, pointed, selection, suggestion } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { bodyScene } from '../body-view/current-scene.ts';
import { partName, sideWords, verdictWords } from '../parts-view/part-words.ts';
import { askSuggestion, canSuggest, nextProposal, takeProposal } from '../suggest.ts';

const methodWords: Readonly<Record<MethodName, string>> = {
  shape: 'keeps true size as nearly as it can',
  'least-worst': 'makes the worst place as good as can be',
  conformal: 'keeps angles; sizes may drift',
  spectral: 'keeps angles, without fixed points',
};

interface Row {
  readonly patch: Patch;
  readonly flat: FlatPart;
}

export function LayFlatPanel(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const flatOf = new Map((flats.value ?? []).map((flat) => [flat.patch, flat]));
  const rows = (cut.value?.patches ?? []).flatMap((patch): Row[] => {
    const flat = flatOf.get(patch.id);
    return flat && (isBothSides.value || patch.side !== 'R' || patch.pair === undefined) ? [{ patch, flat }] : [];
  });
  const chosen = selection.value?.kind === 'part' ? selection.value.id : undefined;
  const row = rows.find(({ patch }) => patch.id === chosen);
  return (
    <>
      <Card title="Parts">
        <PartsTable rows={rows} chosen={chosen} />
        <SelectField
          label="Laid flat so that it"
          value={open.flats.method}
          choices={(['shape', 'least-worst', 'conformal', 'spectral'] as const).map((value) => ({ value, title: methodWords[value] }))}
          onChange={(method) => act({ kind: 'set-method', args: { method } })}
        />
      </Card>
      <SuggestionCard row={row ?? worstOf(rows)} />
      {row && <PartCard row={row} />}
    </>
  );
}

const verdictOrder = { cold: 0, hot: 1, 'needs-seam': 2 } as const;

function worstOf(rows: readonly Row[]): Row | undefined {
  return [...rows].sort(
    (a, b) => verdictOrder[b.flat.verdict] - verdictOrder[a.flat.verdict] || b.flat.summary.stretch.p95 - a.flat.summary.stretch.p95,
  )[0];
}

function PartsTable({ rows, chosen }: { readonly rows: readonly Row[]; readonly chosen: string | undefined }): JSX.Element {
  if (rows.length === 0) return <p>No part has been laid flat yet.</p>;
  return (
    <table class="parts">
      <thead>
        <tr>
          <th scope="col">Part</th>
          <th scope="col">Area</th>
          <th scope="col" title="95 % of the part stretches less than this">
            Most of it
          </th>
          <th scope="col">Worst</th>
          <th scope="col">Foam</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ patch, flat }) => (
          <tr key={patch.id} class={chosen === patch.id ? 'chosen' : hoverSpot.value?.patch === patch.id ? 'lit' : ''}>
            <th scope="row">
              <button
                type="button"
                class="link"
                aria-pressed={chosen === patch.id}
                onClick={() => (selection.value = chosen === patch.id ? undefined : { kind: 'part', id: patch.id })}
              >
                {partName(patch)}
              </button>
              {isBothSides.value && patch.side !== 'C' && <small> {sideWords[patch.side]}</small>}
            </th>
            <td>{showCm2(flat.summary.surfaceAreaMm2)}</td>
            <td>{showPercent(Math.max(flat.summary.stretch.p95, flat.summary.squeeze.p95))}</td>
            <td>{showPercent(Math.max(flat.summary.stretch.max, flat.summary.squeeze.max))}</td>
            <td>
              <span class={`tag ${flat.verdict}`}>{verdictWords[flat.verdict]}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function SuggestionCard({ row }: { readonly row: Row | undefined }): JSX.Element | null {
  if (!row) return null;
  const now = suggestion.value;
  const name = partName(row.patch);
  const isMine = now !== undefined && now !== 'looking' && now.part === row.patch.id;
  return (
    <Card
      title={`A seam for ${name}`}
      action={
        canSuggest.value && (
          <button type="button" disabled={now === 'looking'} onClick={() => void askSuggestion(row.patch.id)}>
            {now === 'looking' ? 'Looking …' : 'Suggest'}
          </button>
        )
      }
    >
      {isMine ? (
        <>
          <p>{now.proposals[now.index].words}</p>
          <p>
            {showMm(now.proposals[now.index].lengthMm)} long: {showPercent(now.proposals[now.index].p95Before)} becomes{' '}
            <strong>{showPercent(now.proposals[now.index].p95After)}</strong>.
          </p>
          <div class="row">
            <button type="button" class="act" onClick={takeProposal}>
              Take it
            </button>
            {now.proposals.length > 1 && (
              <button type="button" onClick={nextProposal}>
                Next ({now.index + 1} of {now.proposals.length})
              </button>
            )}
            <button type="button" onClick={() => (suggestion.value = undefined)}>
              Leave it
            </button>
          </div>
        </>
      ) : (
        <>
          <p>
            {row.flat.verdict === 'needs-seam'
              ? 'The foam cannot take this.'
              : 'The foam can take this; a further seam would still lower the strain.'}
            {!canSuggest.value && ' Plastron does not propose cuts yet: draw one through the worst place.'}
          </p>
          <div class="row">
            <button type="button" onClick={() => showWorst(row)}>
              <Icon name="eye" /> Show the worst place
            </button>
            <button
              type="button"
              onClick={() => {
                showWorst(row);
                coloursBy.value = 'strain';
                takeTool('line');
              }}
            >
              Draw a seam
            </button>
          </div>
        </>
      )}
    </Card>
  );
}

function showWorst({ flat }: Row): void {
  const { worstAt } = flat.summary;
  pointed.value = { at: worstAt };
  const scene = bodyScene.value;
  scene?.lookAt(worstAt, scene.index()?.nearest(worstAt)?.normal);
}

function PartCard({ row: { patch, flat } }: { readonly row: Row }): JSX.Element {
  const { summary } = flat;
  const show = (which: typeof summary.stretch): JSX.Element => (
    <>
      <td>{showPercent(which.median)}</td>
      <td>{showPercent(which.p95)}</td>
      <td>{showPercent(which.p99)}</td>
      <td>{showPercent(which.max)}</td>
    </>
  );
  return (
    <Card title={partName(patch)}>
      <table>
        <thead>
          <tr>
            <th scope="col">The foam</th>
            <th scope="col">half of it</th>
            <th scope="col">95&#8239;%</th>
            <th scope="col">99&#8239;%</th>
            <th scope="col">worst</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">stretches</th>
            {show(summary.stretch)}
          </tr>
          <tr>
            <th scope="row">is squeezed</th>
            {show(summary.squeeze)}
          </tr>
        </tbody>
      </table>
      <dl class="facts two">
        <div>
          <dt>Area, flat over body</dt>
          <dd>
            {summary.areaRatio.min.toFixed(3)} · {summary.areaRatio.mean.toFixed(3)} · {summary.areaRatio.max.toFixed(3)}
          </dd>
        </div>
        <div>
          <dt>No flat shape does better than</dt>
          <dd>×{summary.bestRatio.toFixed(3)}</dd>
        </div>
        <div>
          <dt>Turned over / doubled</dt>
          <dd>
            {summary.flips} / {summary.overlaps}
          </dd>
        </div>
        <div>
          <dt>Worked out in</dt>
          <dd>
            {summary.iterations} steps{summary.converged ? '' : ', not settled'}
          </dd>
        </div>
      </dl>
    </Card>
  );
}
