/*
 * Your tape beside the mesh, and the scale that the tape asks for. A scale is proposed, never applied by itself.
 */
import type { JSX } from 'preact';
import type { MeasureResult } from '../../src/body/body.ts';
import type { MeasureMark } from '../../src/body/settings.ts';
import { fitScale } from '../../src/body/scale.ts';
import { act } from '../desk.ts';
import { Card, TextField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { lengthMm, showMm } from '../fields/quantity.ts';
import { body, job, measureKind, selection } from '../state.ts';
import { takeTool } from '../take-tool.ts';

const kindWords: Readonly<Record<MeasureMark['kind'], string>> = {
  girth: 'girth',
  length: 'over the skin',
  distance: 'straight',
  height: 'above the floor',
};

function startMeasure(kind: MeasureMark['kind']): void {
  measureKind.value = kind;
  takeTool('measure');
}

export function TapeCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const results = body.value?.measures ?? [];
  const resultOf = (mark: MeasureMark): MeasureResult | undefined =>
    results.find((result) => result.name === mark.name && result.kind === mark.kind);
  return (
    <Card
      title="Your tape"
      action={
        <button type="button" onClick={() => startMeasure('girth')}>
          Measure
        </button>
      }
    >
      {open.body.measures.length === 0 ? (
        <p>
          Type what your own tape says for one or two places: Plastron compares and proposes a scale. Press Measure, then click on the body.
        </p>
      ) : (
        <ul class="rows">
          {open.body.measures.map((mark, index) => (
            <MeasureRow key={index} mark={mark} index={index} result={resultOf(mark)} />
          ))}
        </ul>
      )}
      <ScaleProposal results={results} />
    </Card>
  );
}

interface MeasureRowProps {
  readonly mark: MeasureMark;
  readonly index: number;
  readonly result: MeasureResult | undefined;
}

function MeasureRow({ mark, index, result }: MeasureRowProps): JSX.Element {
  const isChosen = selection.value?.kind === 'measure' && selection.value.index === index;
  const change = (part: Partial<MeasureMark>): void => void act({ kind: 'change-measure', args: { index, change: part } });
  return (
    <li class={isChosen ? 'chosen' : ''} onFocusCapture={() => (selection.value = { kind: 'measure', index })}>
      <div class="row">
        <TextField
          label={`Name of measure ${index + 1}`}
          isLabelHidden
          value={mark.name}
          onChange={(name) => name.trim() !== '' && change({ name: name.trim() })}
        />
        <NumberField
          label={`${mark.name}, your tape`}
          isLabelHidden
          value={mark.tapeMm}
          quantity={lengthMm}
          min={0}
          max={4000}
          hint="What your tape says; 0 while it is not known"
          onChange={(tapeMm) => change({ tapeMm })}
        />
        <button
          type="button"
          class="quiet"
          aria-label={`Remove ${mark.name}`}
          onClick={() => act({ kind: 'remove-measure', args: { index } })}
        >
          <Icon name="bin" />
        </button>
      </div>
      <p class="small">
        {kindWords[mark.kind]} · mesh {result ? showMm(result.meshMm) : '…'}
        {result && mark.tapeMm > 0 && <Difference result={result} />}
        {mark.tapeMm === 0 && ' · type what your tape says'}
      </p>
    </li>
  );
}

function Difference({ result }: { readonly result: MeasureResult }): JSX.Element {
  const isGood = Math.abs(result.differenceMm) <= result.allowedMm;
  return (
    <>
      {' '}
      ·{' '}
      <span class={isGood ? 'good' : 'wrong'}>
        off your tape by {showMm(Math.abs(result.differenceMm))}
        {isGood ? ', within' : ', more than'} the {result.allowedMm}&#8239;mm of ISO 20685
      </span>
    </>
  );
}

const verdictWords = {
  fits: 'The scan fits your tape.',
  scale: 'One scale mends it: the same per cent everywhere.',
  shape: 'Your values disagree by different per cent: posture, breath, clothing, or a wrong point. No scale mends all.',
  unsure: 'One value alone cannot tell scale from posture: type a second one, best a length or a height.',
} as const;

function ScaleProposal({ results }: { readonly results: readonly MeasureResult[] }): JSX.Element | null {
  const open = job.value;
  const fit = fitScale(results);
  if (!fit || !open) return null;
  const largest = Math.max(...fit.residualsMm.map(Math.abs));
  return (
    <div class="proposal">
      <p>
        {verdictWords[fit.verdict]}
        {fit.verdict !== 'fits' && ` Scale ×${fit.scale.toFixed(4)} leaves ${showMm(largest)} at most.`}
      </p>
      {fit.verdict !== 'fits' && Math.abs(fit.scale - 1) > 0.0005 && (
        <button
          type="button"
          class="act"
          onClick={() => act({ kind: 'set-scale', args: { scale: open.body.scale * fit.scale, factor: fit.scale } })}
        >
          Use ×{fit.scale.toFixed(4)}
        </button>
      )}
    </div>
  );
}
