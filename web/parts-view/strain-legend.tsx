/*
 * The scale of the strain colours with its limit marks, and how much of the foam's area has which strain: a bar picks its faces.
 */
import type { JSX } from 'preact';
import { computed } from '@preact/signals';
import { formatQuantity, percent, showPercent } from '../fields/quantity.ts';
import { cssColour, strainColour } from '../colours/strain-map.ts';
import { signedStrain } from '../body-view/strain-values.ts';
import { faceAreas } from '../../src/mesh/measure.ts';
import { foldBack, selection, strainBand } from '../state.ts';
import { shownSheet, strainEnd } from '../strain-scale.ts';
import { histogramOf } from './histogram.ts';
import type { FlatItem } from './paper-items.ts';
import { flatItems } from './paper-items.ts';

const barCount = 24;

const shownItems = computed<readonly FlatItem[]>(() => {
  const chosen = selection.value?.kind === 'part' ? selection.value.id : undefined;
  const one = flatItems.value.find(({ patch }) => patch.id === chosen);
  return one ? [one] : flatItems.value;
});

const bars = computed(() => {
  const strain: number[] = [];
  const area: number[] = [];
  for (const { patch, flat } of shownItems.value) {
    strain.push(...signedStrain(flat));
    area.push(...faceAreas(patch.mesh));
  }
  return histogramOf(strain, area, -strainEnd.value, strainEnd.value, barCount);
});

export function StrainLegend(): JSX.Element {
  const sheet = shownSheet.value;
  const end = strainEnd.value;
  const at = (strain: number): string => `${(50 * (1 + strain / end)).toFixed(2)}%`;
  const limits = sheet
    ? [
        { value: -sheet.squeezeHot.value, kind: 'hot' },
        { value: -sheet.squeezeCold.value, kind: 'cold' },
        { value: sheet.stretchCold.value, kind: 'cold' },
        { value: sheet.stretchHot.value, kind: 'hot' },
      ]
    : [];
  const highest = Math.max(1e-9, ...bars.value.map(({ share }) => share));
  const [only] = shownItems.value;
  return (
    <div class="legend" role="group" aria-label="How much the foam must stretch">
      <div class="row">
        <strong>How much the foam must stretch</strong>
        <small>{shownItems.value.length === 1 ? only.patch.name || only.patch.id : 'all parts'}</small>
      </div>
      <div class="bars" role="group" aria-label="Area by strain; a bar picks its faces">
        {bars.value.map(({ from, to, share }, i) => {
          const isPicked = strainBand.value?.from === from;
          return (
            <button
              key={i}
              type="button"
              aria-pressed={isPicked}
              aria-label={`${showPercent(from)} to ${showPercent(to)}: ${showPercent(share, 0)} of the area`}
              title={`${showPercent(from)} to ${showPercent(to)}: ${showPercent(share, 0)} of the area`}
              onClick={() => (strainBand.value = isPicked ? undefined : { from, to })}
            >
              <i style={{ height: `${Math.sqrt(share / highest) * 100}%`, background: cssColour(strainColour((from + to) / 2 / end)) }} />
            </button>
          );
        })}
      </div>
      <div class="scale">
        <StrainBar />
        {limits.map(({ value, kind }) => (
          <i key={`${kind}${value}`} class={`limit ${kind}`} style={{ left: at(value) }} />
        ))}
      </div>
      <div class="row ends">
        <span>{formatQuantity(-end, percent)} squeezed</span>
        <span>0</span>
        <span>stretched +{formatQuantity(end, percent)}</span>
      </div>
      {sheet && (
        <small>
          {sheet.name}: dotted cold limits −{formatQuantity(sheet.squeezeCold.value, percent)}, +
          {formatQuantity(sheet.stretchCold.value, percent)}; dashed hot limits −{formatQuantity(sheet.squeezeHot.value, percent)}, +
          {formatQuantity(sheet.stretchHot.value, percent)}
        </small>
      )}
      <label class="row fold">
        <span>Flat</span>
        <input
          type="range"
          min={0}
          max={1}
          step={0.01}
          value={foldBack.value}
          aria-label="Fold the flat parts back onto the body"
          onInput={(event) => (foldBack.value = Number(event.currentTarget.value))}
        />
        <span>Folded back onto the body</span>
      </label>
    </div>
  );
}

/** Bands of colour as a picture: a gradient in CSS would mix in another colour space. */
function StrainBar(): JSX.Element {
  const steps = 64;
  return (
    <svg class="bar" viewBox={`0 0 ${steps} 1`} preserveAspectRatio="none" aria-hidden="true">
      {Array.from({ length: steps }, (_, i) => (
        <rect key={i} x={i} width={1.05} height={1} fill={cssColour(strainColour((2 * i) / (steps - 1) - 1))} />
      ))}
    </svg>
  );
}
