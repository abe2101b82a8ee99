/*
 * The figures of a material, each with its source; your own coupon's value replaces one in this job.
 */
import type { JSX } from 'preact';
import type { Figure, Material } from '../../src/materials/material.ts';
import { materials } from '../../src/materials/index.ts';
import { knownMaterial } from '../known-material.ts';
import { act } from '../desk.ts';
import { NumberField } from '../fields/number-field.tsx';
import type { Quantity } from '../fields/quantity.ts';
import { density, lengthFine, lengthMm, percent, plain } from '../fields/quantity.ts';
import { SelectField } from '../fields/fields.tsx';
import { job, shownMaterial } from '../state.ts';

type FigureName =
  | 'thicknessMm'
  | 'density'
  | 'neutralFactor'
  | 'stretchCold'
  | 'stretchHot'
  | 'squeezeCold'
  | 'squeezeHot'
  | 'bendRadiusColdMm'
  | 'bendRadiusHotMm'
  | 'stripMm'
  | 'shrink';

const rows: readonly { readonly name: FigureName; readonly title: string; readonly quantity: Quantity }[] = [
  { name: 'thicknessMm', title: 'Thickness', quantity: lengthFine },
  { name: 'neutralFactor', title: 'Middle of the foam, as a share of its thickness from inside', quantity: plain },
  { name: 'stretchCold', title: 'May stretch, cold', quantity: percent },
  { name: 'stretchHot', title: 'May stretch, heated', quantity: percent },
  { name: 'squeezeCold', title: 'May be squeezed, cold', quantity: percent },
  { name: 'squeezeHot', title: 'May be squeezed, heated', quantity: percent },
  { name: 'bendRadiusColdMm', title: 'Tightest bend inside, cold', quantity: lengthMm },
  { name: 'bendRadiusHotMm', title: 'Tightest bend inside, heated', quantity: lengthMm },
  { name: 'stripMm', title: 'Narrowest strip between cuts', quantity: lengthMm },
  { name: 'shrink', title: 'Shrinks when formed', quantity: percent },
  { name: 'density', title: 'Density', quantity: density },
];

const laserWords = { allowed: 'may be cut by laser', ask: 'ask the laser’s operator', refused: 'never by laser' } as const;
const couponSource = 'your own coupon';

export function MaterialDialog(): JSX.Element {
  const own = job.value?.materials ?? [];
  const id = shownMaterial.value ?? job.value?.standoff.layers[0] ?? 'eva-6';
  const material = knownMaterial(id, own);
  const isOwn = own.some((known) => known.id === id);
  const all = [...materials, ...own.filter((known) => !materials.some((material_) => material_.id === known.id))];
  const replace = (change: Partial<Material>): void => {
    if (material) act({ kind: 'set-material', args: { material: { ...material, ...change } } });
  };
  return (
    <>
      <div class="row">
        <SelectField
          label="Material"
          value={id}
          choices={all.map((entry) => ({ value: entry.id, title: entry.name }))}
          onChange={(next) => (shownMaterial.value = next)}
        />
        {isOwn && materials.some((known) => known.id === id) && (
          <button type="button" onClick={() => act({ kind: 'remove-material', args: { id } })}>
            Back to the table’s figures
          </button>
        )}
      </div>
      {!material && <p>The job names “{id}”, which is not in the table. Choose another.</p>}
      {material && (
        <>
          <table class="figures">
            <thead>
              <tr>
                <th scope="col">Figure</th>
                <th scope="col">Value</th>
                <th scope="col">Where it comes from</th>
              </tr>
            </thead>
            <tbody>
              {rows.map(({ name, title, quantity }) => (
                <FigureRow
                  key={name}
                  title={title}
                  quantity={quantity}
                  figure={material[name]}
                  onChange={(value) => replace({ [name]: { value, source: couponSource } })}
                />
              ))}
            </tbody>
          </table>
          <p>
            <strong>{laserWords[material.laser]}.</strong> {material.laserReason}
          </p>
          {material.notes.map((note) => (
            <p key={note} class="small">
              {note}
            </p>
          ))}
          <p class="small">A value that you change stays in this job and counts as measured on your own coupon.</p>
        </>
      )}
    </>
  );
}

interface FigureRowProps {
  readonly title: string;
  readonly quantity: Quantity;
  readonly figure: Figure;
  readonly onChange: (value: number) => void;
}

function FigureRow({ title, quantity, figure, onChange }: FigureRowProps): JSX.Element {
  return (
    <tr>
      <th scope="row">{title}</th>
      <td>
        <NumberField label={title} isLabelHidden value={figure.value} quantity={quantity} min={0} onChange={onChange} />
      </td>
      <td>
        <small>{figure.source}</small>
      </td>
    </tr>
  );
}
