/*
 * What was wrong with the scan and what was done about it; each step can be left out, and further ones asked for.
 */
import type { JSX } from 'preact';
import type { Repair } from '../../src/body/body.ts';
import type { MendStep } from '../../src/body/settings.ts';
import { act } from '../desk.ts';
import { Card, SwitchField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import type { Quantity } from '../fields/quantity.ts';
import { lengthFine, lengthMm, showMm } from '../fields/quantity.ts';
import { body, job } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { planeCutSteps } from '../tools/plane-cut.ts';

interface AskedStep {
  readonly step: string;
  readonly title: string;
  readonly note: string;
  /** What its number means; absent: it has none. */
  readonly measure?: string;
  readonly startMm?: number;
  readonly quantity?: Quantity;
}

/** Steps that can be asked for, in the order in which they run. */
const askedSteps: readonly AskedStep[] = [
  {
    step: 'floor',
    title: 'Cut the floor off',
    note: 'what the scanner saw of the ground',
    measure: 'so far above it',
    startMm: 12,
    quantity: lengthMm,
  },
  {
    step: 'webs',
    title: 'Split arms and trunk',
    note: 'thin walls where an arm touched the trunk',
    measure: 'walls thinner than',
    startMm: 16,
    quantity: lengthMm,
  },
  { step: 'cut-arms', title: 'Take the arms off', note: 'where they leave the trunk' },
  {
    step: 'fill-holes',
    title: 'Close holes',
    note: 'smooth patches over what the scanner missed',
    measure: 'holes up to',
    startMm: 80,
    quantity: lengthMm,
  },
  {
    step: 'simplify',
    title: 'Less scan detail',
    note: 'fewer faces; everything is quicker',
    measure: 'edges of about',
    startMm: 4,
    quantity: lengthFine,
  },
  {
    step: 'smooth',
    title: 'Smooth noise',
    note: 'keeps the form, takes off the roughness',
    measure: 'moves no point by more than',
    startMm: 3,
    quantity: lengthFine,
  },
  {
    step: 'remesh',
    title: 'Even detail',
    note: 'a new mesh with faces all of one size',
    measure: 'edges of about',
    startMm: 4,
    quantity: lengthFine,
  },
];

const stepWords: Readonly<Record<string, string>> = {
  weld: 'Points made one',
  degenerate: 'Faces without area dropped',
  duplicates: 'Double faces dropped',
  orient: 'Turned outside out',
  strays: 'Loose pieces dropped',
};

const cutNames: readonly string[] = Object.values(planeCutSteps);

const setStep = (step: MendStep): void => void act({ kind: 'set-mend-step', args: { step } });

export function MendCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const repairs = body.value?.repairs ?? [];
  const asked = new Set(askedSteps.map(({ step }) => step));
  const own = repairs.filter(({ step }) => !asked.has(step) && !cutNames.includes(step));
  const cuts = open.body.mend.flatMap((step, index) => (cutNames.includes(step.step) ? [{ step, index }] : []));
  return (
    <Card title="Mending">
      {body.value && repairs.length === 0 && <p>Nothing had to be mended.</p>}
      {own.length > 0 && (
        <ul class="rows">
          {own.map((repair, i) => (
            <RepairRow key={`${repair.step} ${i}`} repair={repair} />
          ))}
        </ul>
      )}
      {cuts.length > 0 && (
        <ul class="rows">
          {cuts.map(({ step, index }, i) => (
            <li key={index}>
              <div class="row">
                <span>
                  Cut {i + 1} <small>{step.step === planeCutSteps.part ? 'one piece' : 'everything beyond a plane'}</small>
                </span>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Take cut ${i + 1} back`}
                  onClick={() => act({ kind: 'set-body', args: { change: { mend: open.body.mend.filter((_, j) => j !== index) } } })}
                >
                  <Icon name="bin" />
                </button>
              </div>
            </li>
          ))}
        </ul>
      )}
      <p>
        <button type="button" class="link" onClick={() => takeTool('plane')}>
          Cut a piece off by a plane
        </button>
      </p>
      {askedSteps.map((step) => (
        <AskedStepField
          key={step.step}
          asked={step}
          now={open.body.mend.find((known) => known.step === step.step)}
          repair={repairs.find(({ step: name }) => name === step.step)}
        />
      ))}
    </Card>
  );
}

function RepairRow({ repair }: { readonly repair: Repair }): JSX.Element {
  return (
    <li>
      <div class="row">
        <span>
          {repair.what || stepWords[repair.step] || repair.step}
          {repair.largestMm !== undefined && repair.largestMm > 0 && <small> by {showMm(repair.largestMm, 2)} at most</small>}
        </span>
        <button
          type="button"
          class="quiet"
          aria-pressed={repair.done}
          title={repair.done ? 'Leave this step out' : 'Do this step'}
          onClick={() => {
            const known = job.value?.body.mend.find((step) => step.step === repair.step);
            setStep({ ...(known ?? {}), step: repair.step, accept: !repair.done });
          }}
        >
          {repair.done ? <Icon name="tick" /> : null} {repair.done ? 'done' : 'left out'}
        </button>
      </div>
    </li>
  );
}

interface AskedStepFieldProps {
  readonly asked: AskedStep;
  readonly now: MendStep | undefined;
  readonly repair: Repair | undefined;
}

function AskedStepField({ asked, now, repair }: AskedStepFieldProps): JSX.Element {
  const isOn = now?.accept === true;
  const maxMm = now?.maxMm ?? asked.startMm;
  return (
    <div class="asked-step">
      <SwitchField
        label={asked.title}
        note={isOn && repair ? repair.what : asked.note}
        isOn={isOn}
        onChange={(accept) => setStep({ step: asked.step, accept, ...(maxMm === undefined ? {} : { maxMm }) })}
      />
      {isOn && asked.measure !== undefined && maxMm !== undefined && (
        <NumberField
          label={asked.measure}
          value={maxMm}
          quantity={asked.quantity ?? lengthMm}
          min={0}
          max={500}
          onChange={(next) => setStep({ step: asked.step, accept: true, maxMm: next })}
        />
      )}
    </div>
  );
}
