/*
 * Body: the scan's unit and axes, the tape beside the mesh, and what was mended.
 */
import type { JSX } from 'preact';
import type { Axis } from '../../src/body/body.ts';
import { bounds } from '../../src/mesh/measure.ts';
import type { LengthUnit } from '../../src/units/length.ts';
import { unitMm } from '../../src/units/length.ts';
import { act, chooseFile, replaceBody } from '../desk.ts';
import { Card, SelectField, SwitchField } from '../fields/fields.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { factor, lengthMm } from '../fields/quantity.ts';
import { body, job, openJob } from '../state.ts';
import { pictureAxes } from '../body-view/axes.ts';
import { MendCard } from './mend-card.tsx';
import { TapeCard } from './tape-card.tsx';

const unitWords: Readonly<Record<LengthUnit, string>> = { mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches' };
const fromWords = { given: 'you said so', file: 'the file says so', guess: 'a guess from its size' } as const;
const axes: readonly Axis[] = ['x', 'y', 'z', '-x', '-y', '-z'];
const axisChoices = axes.map((value) => ({ value, title: value.replace('-', '−') }));

function setUnit(unit: LengthUnit): void {
  const now = body.value?.unit;
  act({ kind: 'set-scale', args: { unit, factor: now ? unitMm[unit] / unitMm[now] : 1 } });
}

export function BodyPanel(): JSX.Element | null {
  const open = job.value;
  const standing = body.value;
  if (!open) return null;
  return (
    <>
      <Card
        title="Scan"
        action={
          <button type="button" onClick={() => void chooseFile('.obj,.glb,.gltf,.ply,.stl').then((file) => file && replaceBody(file))}>
            Another scan …
          </button>
        }
      >
        <p class="small">{openJob.value?.file.name}</p>
        {standing && <SizeWords />}
        <SelectField
          label={`Read in${standing ? ` (${fromWords[standing.unitFrom]})` : ''}`}
          value={standing?.unit ?? open.body.unit ?? 'mm'}
          choices={(['mm', 'cm', 'm', 'in'] as const).map((value) => ({ value, title: unitWords[value] }))}
          onChange={setUnit}
        />
        <NumberField
          label="Scale on top"
          value={open.body.scale}
          quantity={factor}
          min={0.01}
          max={100}
          onChange={(scale) => act({ kind: 'set-scale', args: { scale, factor: scale / open.body.scale } })}
        />
        <div class="pair">
          <SelectField
            label="Up"
            value={open.body.up}
            choices={axisChoices}
            onChange={(up) => act({ kind: 'set-body', args: { change: { up } } })}
          />
          <SelectField
            label="Front"
            value={open.body.front}
            choices={axisChoices}
            onChange={(front) => act({ kind: 'set-body', args: { change: { front } } })}
          />
        </div>
        <NumberField
          label="Worn while scanned"
          hint="Thickness of what the scan wore; it is taken off each girth"
          value={open.body.wornMm}
          quantity={lengthMm}
          min={0}
          max={50}
          onChange={(wornMm) => act({ kind: 'set-body', args: { change: { wornMm } } })}
        />
      </Card>
      <TapeCard />
      <MendCard />
      <SymmetryCard />
    </>
  );
}

function SizeWords(): JSX.Element | null {
  const standing = body.value;
  if (!standing) return null;
  const { min, max } = bounds(standing.mesh);
  const [left, up, front] = pictureAxes(standing.up, standing.front);
  const along = (axis: readonly number[]): number => Math.abs(axis.reduce((sum, part, k) => sum + part * (max[k] - min[k]), 0));
  const show = (mm: number): string => `${(mm / 10).toFixed(1)}\u202fcm`;
  return (
    <dl class="facts">
      <div>
        <dt>High</dt>
        <dd>{show(along(up))}</dd>
      </div>
      <div>
        <dt>Wide</dt>
        <dd>{show(along(left))}</dd>
      </div>
      <div>
        <dt>Deep</dt>
        <dd>{show(along(front))}</dd>
      </div>
      <div>
        <dt>Scan detail</dt>
        <dd>{(standing.mesh.faces.length / 3).toLocaleString('en')}</dd>
      </div>
    </dl>
  );
}

function SymmetryCard(): JSX.Element | null {
  const open = job.value;
  const plane = body.value?.mirror ?? open?.body.mirror;
  if (!open) return null;
  const shape = open.body.mirror?.shape ?? 'as-is';
  return (
    <Card title="Halves">
      <SwitchField
        label="Mirror the marks"
        note={
          plane
            ? `plane through x ${plane.point[0].toFixed(1)}, y ${plane.point[1].toFixed(1)}, z ${plane.point[2].toFixed(1)} mm`
            : 'no plane of symmetry was found'
        }
        isOn={open.marks.mirrored}
        onChange={(mirrored) => act({ kind: 'set-mirrored', args: { mirrored } })}
      />
      {plane && (
        <SelectField
          label="Where the halves differ"
          value={shape}
          choices={[
            { value: 'as-is', title: 'each keeps its own shape' },
            { value: 'larger', title: 'both take the larger half' },
            { value: 'average', title: 'both take the mean' },
          ]}
          onChange={(next) =>
            act({ kind: 'set-body', args: { change: { mirror: { point: plane.point, normal: plane.normal, shape: next } } } })
          }
        />
      )}
    </Card>
  );
}
