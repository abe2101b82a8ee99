/*
 * Clearance: what lies between skin and armour, room to breathe, and the layers of material from inside out.
 */
import type { JSX } from 'preact';
import { materials } from '../../src/materials/index.ts';
import { sheetThickness } from '../../src/materials/material.ts';
import type { StandoffSettings } from '../../src/standoff/settings.ts';
import { knownMaterial } from '../known-material.ts';
import { act } from '../desk.ts';
import { Card, SelectField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { lengthMm, showMm } from '../fields/quantity.ts';
import { swapped } from './order.ts';
import { dialog, job, shownMaterial, standoff, surfaces } from '../state.ts';

const set = (change: Partial<StandoffSettings>): void => void act({ kind: 'set-standoff', args: { change } });

export function ClearancePanel(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const { clearanceMm, paddingMm, bridgeHollowsMm } = open.standoff;
  return (
    <>
      <Card title="Between skin and armour">
        <NumberField
          label="Clearance over what is worn"
          value={clearanceMm}
          quantity={lengthMm}
          min={0}
          max={100}
          onChange={(next) => set({ clearanceMm: next })}
        />
        <p class="small">3–5 mm is snug, 8–12 mm loose, each side. [common practice]</p>
        <NumberField
          label="Padding glued inside"
          value={paddingMm}
          quantity={lengthMm}
          min={0}
          max={100}
          onChange={(next) => set({ paddingMm: next })}
        />
        <NumberField
          label="Bridge hollows up to"
          hint="Foam does not follow narrow hollows: it spans those narrower than this"
          value={bridgeHollowsMm}
          quantity={lengthMm}
          min={0}
          max={300}
          onChange={(next) => set({ bridgeHollowsMm: next })}
        />
      </Card>
      <LayersCard />
      <EaseCard />
      <GrowthCard />
    </>
  );
}

function LayersCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const { layers } = open.standoff;
  const own = open.materials;
  const all = [...own, ...materials.filter((material) => !own.some(({ id }) => id === material.id))];
  const choices = all.map(({ id, name }) => ({ value: id, title: name }));
  const change = (next: readonly string[]): void => set({ layers: next });
  return (
    <Card
      title="Layers, from inside out"
      action={
        <button type="button" onClick={() => change([...layers, layers.at(-1) ?? 'eva-6'])}>
          <Icon name="plus" /> Add
        </button>
      }
    >
      <ol class="rows layers">
        {layers.map((id, i) => {
          const material = knownMaterial(id, own);
          const distance = surfaces.value?.find(({ layer }) => layer === i)?.distanceMm;
          return (
            <li key={`${id} ${i}`}>
              <div class="row">
                <SelectField
                  label={`Material of layer ${i + 1}`}
                  isLabelHidden
                  value={id}
                  choices={choices}
                  onChange={(next) => change(layers.map((old, j) => (j === i ? next : old)))}
                />
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Layer ${i + 1} further in`}
                  disabled={i === 0}
                  onClick={() => change(swapped(layers, i - 1))}
                >
                  <Icon name="up" />
                </button>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Layer ${i + 1} further out`}
                  disabled={i === layers.length - 1}
                  onClick={() => change(swapped(layers, i))}
                >
                  <Icon name="down" />
                </button>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Remove layer ${i + 1}`}
                  disabled={layers.length === 1}
                  onClick={() => change(layers.filter((_, j) => j !== i))}
                >
                  <Icon name="bin" />
                </button>
              </div>
              <p class="small">
                {material && `${showMm(sheetThickness(material))} thick`}
                {distance !== undefined && ` · its middle stands ${showMm(distance)} from the skin`}{' '}
                <button
                  type="button"
                  class="link"
                  onClick={() => {
                    shownMaterial.value = id;
                    dialog.value = 'material';
                  }}
                >
                  its figures
                </button>
              </p>
            </li>
          );
        })}
      </ol>
    </Card>
  );
}

function EaseCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const girths = open.body.measures.filter(({ kind }) => kind === 'girth');
  const { ease } = open.standoff;
  return (
    <Card title="Room to move">
      {girths.length === 0 ? (
        <p>Lay a tape round the body at Body, Measure: then each girth can be given room to breathe.</p>
      ) : (
        girths.map(({ name }) => (
          <NumberField
            key={name}
            label={name}
            value={ease.find(({ measure }) => measure === name)?.mm ?? 0}
            quantity={lengthMm}
            min={-100}
            max={300}
            onChange={(mm) =>
              set({ ease: [...ease.filter(({ measure }) => measure !== name), ...(mm === 0 ? [] : [{ measure: name, mm }])] })
            }
          />
        ))
      )}
      <p class="small">A closed chest wants 30–50 mm, or a closure that gives as much. [common practice]</p>
    </Card>
  );
}

/** By how much each girth grew from the skin to the middle of each layer. */
function GrowthCard(): JSX.Element | null {
  const rows = standoff.value.flatMap((layer) => layer.girths.map((girth) => ({ ...girth, layer: layer.layer })));
  if (rows.length === 0) return null;
  return (
    <Card title="By how much girths grow">
      <table>
        <thead>
          <tr>
            <th scope="col">Girth</th>
            <th scope="col">Layer</th>
            <th scope="col">Skin</th>
            <th scope="col">Foam</th>
            <th scope="col">More</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, layer, bodyMm, surfaceMm }) => (
            <tr key={`${name} ${layer}`}>
              <th scope="row">{name}</th>
              <td>{layer + 1}</td>
              <td>{bodyMm.toFixed(0)}</td>
              <td>{surfaceMm.toFixed(0)}</td>
              <td>+{(surfaceMm - bodyMm).toFixed(0)}&#8239;mm</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Card>
  );
}
