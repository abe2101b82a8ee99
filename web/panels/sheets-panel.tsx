/*
 * Sheets: the stock at hand, how it is used, and what must be bought.
 */
import type { JSX } from 'preact';
import type { Stock } from '../../src/nest/settings.ts';
import { materials } from '../../src/materials/index.ts';
import { knownMaterial } from '../known-material.ts';
import { act } from '../desk.ts';
import { Card, SelectField, SwitchField, TextField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { count, lengthFine, lengthMm, plain } from '../fields/quantity.ts';
import { drafted, job, sheets } from '../state.ts';
import { whatIsUsed } from './what-is-used.ts';

const turnWords: Readonly<Record<Stock['turns'], string>> = {
  any: 'parts may turn anyhow',
  '90': 'by quarter turns',
  '180': 'by half turns: it has a grain',
  none: 'not at all',
};

function addStock(): void {
  const open = job.value;
  if (!open) return;
  const material = open.standoff.layers[0] ?? 'eva-6';
  const size = knownMaterial(material, open.materials)?.sheets?.[0];
  act({
    kind: 'add-stock',
    args: {
      stock: {
        name: size?.name ?? 'sheet',
        material,
        widthMm: size?.widthMm ?? 600,
        heightMm: size?.heightMm ?? 600,
        count: 8,
        marginMm: 8,
        turns: 'any',
      },
    },
  });
}

export function SheetsPanel(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  return (
    <>
      <UseCard />
      <Card
        title="In the workshop"
        action={
          <button type="button" onClick={addStock}>
            <Icon name="plus" /> Add
          </button>
        }
      >
        {open.sheets.stock.length === 0 && <p>No sheets are listed, so a common size is reckoned with. Add what you have.</p>}
        {open.sheets.stock.map((stock, index) => (
          <StockFields key={index} stock={stock} index={index} />
        ))}
      </Card>
      <SpacingCard />
    </>
  );
}

function StockFields({ stock, index }: { readonly stock: Stock; readonly index: number }): JSX.Element {
  const own = job.value?.materials ?? [];
  const change = (part: Partial<Stock>): void => void act({ kind: 'change-stock', args: { index, change: part } });
  const sizes = knownMaterial(stock.material, own)?.sheets ?? [];
  const isCommon = sizes.findIndex((size) => size.widthMm === stock.widthMm && size.heightMm === stock.heightMm);
  return (
    <fieldset class="stock-fields">
      <legend class="unseen">{stock.name}</legend>
      <div class="row">
        <TextField
          label={`Name of stock ${index + 1}`}
          isLabelHidden
          value={stock.name}
          onChange={(name) => name.trim() !== '' && change({ name: name.trim() })}
        />
        <button
          type="button"
          class="quiet"
          aria-label={`Remove ${stock.name}`}
          onClick={() => act({ kind: 'remove-stock', args: { index } })}
        >
          <Icon name="bin" />
        </button>
      </div>
      <SelectField
        label="Material"
        value={stock.material}
        choices={[...own.filter(({ id }) => !materials.some((known) => known.id === id)), ...materials].map(({ id, name }) => ({
          value: id,
          title: name,
        }))}
        onChange={(material) => change({ material })}
      />
      {sizes.length > 0 && (
        <SelectField
          label="Common size"
          value={String(isCommon)}
          choices={[
            { value: '-1', title: 'my own' },
            ...sizes.map((size, i) => ({ value: String(i), title: `${size.name}, ${size.widthMm} × ${size.heightMm}` })),
          ]}
          onChange={(chosen) => {
            const size = sizes.at(Number(chosen));
            if (Number(chosen) >= 0 && size) change({ widthMm: size.widthMm, heightMm: size.heightMm, name: size.name });
          }}
        />
      )}
      <div class="pair">
        <NumberField
          label="Wide"
          value={stock.widthMm}
          quantity={lengthMm}
          min={20}
          max={20_000}
          onChange={(widthMm) => change({ widthMm })}
        />
        <NumberField
          label="High"
          value={stock.heightMm}
          quantity={lengthMm}
          min={20}
          max={20_000}
          onChange={(heightMm) => change({ heightMm })}
        />
      </div>
      <div class="pair">
        <NumberField
          label="How many"
          value={stock.count}
          quantity={count}
          min={0}
          max={999}
          onChange={(next) => change({ count: Math.round(next) })}
        />
        <NumberField
          label="Margin"
          value={stock.marginMm}
          quantity={lengthMm}
          min={0}
          max={200}
          onChange={(marginMm) => change({ marginMm })}
        />
      </div>
      <div class="pair">
        <SelectField
          label="Turns"
          value={stock.turns}
          choices={(['any', '90', '180', 'none'] as const).map((value) => ({ value, title: turnWords[value] }))}
          onChange={(turns) => change({ turns })}
        />
        <NumberField
          label="Price each"
          value={stock.price ?? 0}
          quantity={plain}
          min={0}
          max={100_000}
          onChange={(price) => change({ price })}
        />
      </div>
    </fieldset>
  );
}

function UseCard(): JSX.Element {
  const value = sheets.value;
  if (!value) return <Card title="Laid out">Not laid out yet.</Card>;
  const { nested } = value;
  const own = job.value?.materials ?? [];
  const used = whatIsUsed(nested.sheets, job.value?.sheets.stock ?? [], (id) => knownMaterial(id, own), drafted.value?.parts ?? []);
  return (
    <Card title="Laid out">
      <table>
        <thead>
          <tr>
            <th scope="col">Stock</th>
            <th scope="col">Sheets</th>
            <th scope="col">Used</th>
            <th scope="col">Parts weigh</th>
            <th scope="col">Cost</th>
          </tr>
        </thead>
        <tbody>
          {used.map((row) => (
            <tr key={row.stock}>
              <th scope="row">{row.stock}</th>
              <td>{row.sheets}</td>
              <td>{Math.round(100 * row.use)}&#8239;%</td>
              <td>{row.partsKg === undefined ? '—' : `${row.partsKg.toFixed(2)}\u202fkg`}</td>
              <td>{row.cost === undefined ? '—' : row.cost.toFixed(2)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {nested.unplaced.length > 0 && (
        <p class="wrong">
          {nested.unplaced.length === 1 ? 'One part fits' : `${nested.unplaced.length} parts fit`} no sheet: {nested.unplaced.join(', ')}.
          Add a larger sheet, or more of them.
        </p>
      )}
    </Card>
  );
}

function SpacingCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const { spacingMm, bed } = open.sheets;
  return (
    <Card title="On the sheet">
      <NumberField
        label={spacingMm === undefined ? 'Room between parts (from the tool)' : 'Room between parts'}
        value={spacingMm ?? 3}
        quantity={lengthFine}
        min={0}
        max={100}
        onChange={(next) => act({ kind: 'set-sheets', args: { change: { spacingMm: next } } })}
      />
      <SwitchField
        label="The machine takes less than a sheet"
        isOn={bed !== undefined}
        onChange={(isOn) =>
          act({
            kind: 'set-sheets',
            args: { change: { bed: isOn ? { widthMm: 600, heightMm: 400 } : undefined } as Partial<typeof open.sheets> },
          })
        }
      />
      {bed && (
        <div class="pair">
          <NumberField
            label="Bed, wide"
            value={bed.widthMm}
            quantity={lengthMm}
            min={20}
            max={20_000}
            onChange={(widthMm) => act({ kind: 'set-sheets', args: { change: { bed: { ...bed, widthMm } } } })}
          />
          <NumberField
            label="Bed, high"
            value={bed.heightMm}
            quantity={lengthMm}
            min={20}
            max={20_000}
            onChange={(heightMm) => act({ kind: 'set-sheets', args: { change: { bed: { ...bed, heightMm } } } })}
          />
        </div>
      )}
    </Card>
  );
}
