/*
 * Draw: areas, lines, fittings, and names of parts.
 */
import type { JSX } from 'preact';
import type { AreaMark } from '../../src/areas/area.ts';
import { act } from '../desk.ts';
import { addArea } from '../acts/draw-acts.ts';
import { areaColour } from '../colours/area-colours.ts';
import { Card, SelectField, TextField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { lengthMm, showCm2 } from '../fields/quantity.ts';
import { activeArea, cut, job } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { paintedArea } from '../tools/stroke-hand.ts';
import { FittingsCard, NamesCard } from './fittings-card.tsx';
import { LinesCard } from './lines-card.tsx';

export function DrawPanel(): JSX.Element | null {
  if (!job.value) return null;
  return (
    <>
      <AreasCard />
      <LinesCard />
      <NamesCard />
      <FittingsCard />
    </>
  );
}

function AreasCard(): JSX.Element {
  const areas = job.value?.marks.areas ?? [];
  const chosen = paintedArea();
  return (
    <Card
      title="Areas"
      action={
        <button type="button" onClick={addArea}>
          <Icon name="plus" /> Add
        </button>
      }
    >
      {areas.length === 0 && (
        <p>
          Take the{' '}
          <button type="button" class="link" onClick={() => takeTool('brush')}>
            brush
          </button>{' '}
          and paint where the armour goes.
        </p>
      )}
      <ul class="rows areas">
        {areas.map((area, index) => (
          <AreaRow key={area.id} area={area} index={index} isChosen={area.id === chosen} />
        ))}
      </ul>
    </Card>
  );
}

interface AreaRowProps {
  readonly area: AreaMark;
  readonly index: number;
  readonly isChosen: boolean;
}

function AreaRow({ area, index, isChosen }: AreaRowProps): JSX.Element {
  const size = cut.value?.areas.find(({ id }) => id === area.id)?.areaMm2;
  const layers = job.value?.standoff.layers ?? [];
  const change = (part: Partial<Omit<AreaMark, 'id' | 'strokes'>>): void =>
    void act({ kind: 'change-area', args: { id: area.id, change: part } });
  return (
    <li class={isChosen ? 'chosen' : ''}>
      <div class="row">
        <label class="area-choice">
          <input
            type="radio"
            name="area"
            checked={isChosen}
            onChange={() => (activeArea.value = area.id)}
            aria-label={`Paint on ${area.name || area.id}`}
          />
          <i style={{ background: areaColour(index) }} aria-hidden="true" />
        </label>
        <TextField
          label={`Name of area ${index + 1}`}
          isLabelHidden
          value={area.name}
          placeholder={area.id}
          onChange={(name) => change({ name })}
        />
        <small class="amount">{size === undefined ? '' : showCm2(size)}</small>
        <button
          type="button"
          class="quiet"
          aria-label={`Remove ${area.name || area.id}`}
          onClick={() => act({ kind: 'remove-area', args: { id: area.id } })}
        >
          <Icon name="bin" />
        </button>
      </div>
      {isChosen && (
        <div class="details">
          <SelectField
            label="Formed"
            value={area.forming}
            choices={[
              { value: 'domed', title: 'domed: follows the body both ways' },
              { value: 'bent', title: 'bent: one way only' },
            ]}
            onChange={(forming) => change({ forming })}
          />
          {layers.length > 1 && (
            <SelectField
              label="Layer"
              value={String(area.layer)}
              choices={layers.map((id, i) => ({ value: String(i), title: `${i + 1}: ${id}` }))}
              onChange={(layer) => change({ layer: Number(layer) })}
            />
          )}
          <NumberField
            label="Grow the border by"
            value={area.growMm}
            quantity={lengthMm}
            min={-100}
            max={100}
            onChange={(growMm) => change({ growMm })}
          />
          <NumberField
            label="Clearance here"
            hint="In place of the clearance of the whole job"
            value={area.clearanceMm ?? job.value?.standoff.clearanceMm ?? 0}
            quantity={lengthMm}
            min={0}
            max={100}
            onChange={(clearanceMm) => change({ clearanceMm })}
          />
          <p class="small">
            {area.strokes.length} strokes
            {area.strokes.length > 0 && (
              <>
                {' · '}
                <button
                  type="button"
                  class="link"
                  onClick={() => act({ kind: 'remove-stroke', args: { area: area.id, index: area.strokes.length - 1 } })}
                >
                  take the last one away
                </button>
              </>
            )}
          </p>
        </div>
      )}
    </li>
  );
}
