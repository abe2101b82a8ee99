/*
 * The drawn lines: kind, path, mirror, length; and the points of the chosen one, which can be typed.
 */
import type { JSX } from 'preact';
import type { Vec3 } from '../../src/base/arrays.ts';
import type { LineKind, LineMark } from '../../src/lines/line.ts';
import { act } from '../desk.ts';
import { Card, SelectField, SwitchField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { degrees, lengthFine, lengthMm, showMm } from '../fields/quantity.ts';
import { cut, job, selection, traces } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { lineNotes, lineWords } from '../tools/line-words.ts';

const kinds: readonly LineKind[] = ['seam', 'dart', 'opening', 'drawn', 'reference'];

export function LinesCard(): JSX.Element {
  const lines = job.value?.marks.lines ?? [];
  return (
    <Card
      title="Lines"
      action={
        <button type="button" onClick={() => takeTool('line')}>
          <Icon name="plus" /> Draw
        </button>
      }
    >
      {lines.length === 0 && (
        <p>Seams cut an area into parts. Draw one by clicking points over the body; the path between them is the shortest over the skin.</p>
      )}
      <ul class="rows lines">
        {lines.map((line) => (
          <LineRow key={line.id} line={line} />
        ))}
      </ul>
    </Card>
  );
}

function LineRow({ line }: { readonly line: LineMark }): JSX.Element {
  const isChosen = selection.value?.kind === 'line' && selection.value.id === line.id;
  const length =
    cut.value?.lines.find(({ id }) => id === line.id)?.lengthMm ?? traces.value?.find((trace) => trace.line === line.id)?.lengthMm;
  return (
    <li class={isChosen ? 'chosen' : ''}>
      <div class="row">
        <button
          type="button"
          class="quiet wide"
          aria-expanded={isChosen}
          onClick={() => (selection.value = isChosen ? undefined : { kind: 'line', id: line.id })}
        >
          <span class={`swatch ${line.kind}`} aria-hidden="true" />
          {line.id} <small>{lineWords[line.kind].toLowerCase()}</small>
        </button>
        <small class="amount">{length === undefined ? '' : showMm(length)}</small>
        <button
          type="button"
          class="quiet"
          aria-label={`Remove ${line.id}`}
          onClick={() => act({ kind: 'remove-line', args: { id: line.id } })}
        >
          <Icon name="bin" />
        </button>
      </div>
      {isChosen && <LineDetails line={line} />}
    </li>
  );
}

function LineDetails({ line }: { readonly line: LineMark }): JSX.Element {
  const change = (part: Partial<Omit<LineMark, 'id' | 'points'>>): void =>
    void act({ kind: 'change-line', args: { id: line.id, change: part } });
  return (
    <div class="details">
      <SelectField
        label="Kind"
        value={line.kind}
        choices={kinds.map((value) => ({ value, title: `${lineWords[value]}: ${lineNotes[value]}` }))}
        onChange={(kind) => change({ kind })}
      />
      <SelectField
        label="Between its points"
        value={line.path}
        choices={[
          { value: 'shortest', title: 'the shortest way over the body' },
          { value: 'smooth', title: 'a smooth curve' },
          { value: 'plane', title: 'straight as seen: in one plane' },
        ]}
        onChange={(path) => change({ path })}
      />
      <SwitchField label="On the other half too" isOn={line.mirror} onChange={(mirror) => change({ mirror })} />
      <SwitchField label="A ring" isOn={line.closed} onChange={(closed) => change({ closed })} />
      {line.kind === 'drawn' && <CreaseFields line={line} change={change} />}
      <PointTable line={line} />
    </div>
  );
}

interface CreaseProps {
  readonly line: LineMark;
  readonly change: (part: Partial<Omit<LineMark, 'id' | 'points'>>) => void;
}

function CreaseFields({ line, change }: CreaseProps): JSX.Element {
  const { crease } = line;
  return (
    <>
      <SwitchField
        label="A crease"
        note="cut part of the way through and opened by heat"
        isOn={crease !== undefined}
        onChange={(isOn) => change({ crease: isOn ? { depthMm: 3, angleDeg: 30 } : undefined } as Partial<LineMark>)}
      />
      {crease && (
        <>
          <NumberField
            label="Depth"
            value={crease.depthMm}
            quantity={lengthFine}
            min={0.1}
            max={30}
            onChange={(depthMm) => change({ crease: { ...crease, depthMm } })}
          />
          <NumberField
            label="Opens to"
            value={crease.angleDeg}
            quantity={degrees}
            min={1}
            max={170}
            onChange={(angleDeg) => change({ crease: { ...crease, angleDeg } })}
          />
        </>
      )}
    </>
  );
}

function PointTable({ line }: { readonly line: LineMark }): JSX.Element {
  const move = (index: number, axis: number, value: number): void => {
    const to = line.points[index].map((old, k) => (k === axis ? value : old));
    act({ kind: 'move-line-point', args: { line: line.id, index, to: [to[0], to[1], to[2]] satisfies Vec3 } });
  };
  return (
    <details>
      <summary>{line.points.length} points</summary>
      <table class="points">
        <thead>
          <tr>
            <th scope="col">Point</th>
            <th scope="col">x</th>
            <th scope="col">y</th>
            <th scope="col">z</th>
            <th scope="col">
              <span class="unseen">Remove</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {line.points.map((point, index) => (
            <tr key={index}>
              <th scope="row">{index + 1}</th>
              {point.map((value, axis) => (
                <td key={axis}>
                  <NumberField
                    label={`Point ${index + 1}, ${'xyz'[axis]}`}
                    isLabelHidden
                    value={value}
                    quantity={lengthMm}
                    onChange={(next) => move(index, axis, next)}
                  />
                </td>
              ))}
              <td>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Take point ${index + 1} out`}
                  onClick={() => act({ kind: 'remove-line-point', args: { line: line.id, index } })}
                >
                  <Icon name="close" />
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
