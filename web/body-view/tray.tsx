/*
 * The tray of tools at the edge of the body's pane, and what the tool in hand can be set to.
 */
import type { JSX } from 'preact';
import type { FittingKind, LineKind } from '../../src/lines/line.ts';
import { act } from '../desk.ts';
import { ChoiceRow } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { lengthMm } from '../fields/quantity.ts';
import { brushMm, fittingKind, job, lineKind, measureKind, tool } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { tools } from '../tools/index.ts';
import { lineWords } from '../tools/line-words.ts';
import { brushRange } from '../tools/stroke-hand.ts';

const kindsOfLine: readonly Exclude<LineKind, 'dart'>[] = ['seam', 'opening', 'drawn', 'reference'];
const kindsOfFitting: readonly FittingKind[] = ['strap', 'snap', 'magnet', 'buckle'];
const kindsOfMeasure = ['girth', 'length', 'distance', 'height'] as const;

const upperFirst = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

export function Tray(): JSX.Element {
  return (
    <div class="tray">
      <div role="toolbar" aria-label="Tools" aria-orientation="vertical" class="tools">
        {tools.map((entry) => (
          <button
            key={entry.name}
            type="button"
            aria-pressed={tool.value === entry.name}
            aria-keyshortcuts={entry.key}
            title={entry.hint}
            onClick={() => takeTool(entry.name)}
          >
            <Icon name={entry.icon} />
            <span>{entry.title}</span>
            <kbd aria-hidden="true">{entry.key}</kbd>
          </button>
        ))}
        <button
          type="button"
          role="switch"
          aria-checked={job.value?.marks.mirrored === true}
          title="What is drawn on one half also stands on the other"
          onClick={() => act({ kind: 'set-mirrored', args: { mirrored: job.value?.marks.mirrored !== true } })}
        >
          <Icon name="mirror" />
          <span>Mirror</span>
          <kbd aria-hidden="true">{job.value?.marks.mirrored === true ? 'on' : 'off'}</kbd>
        </button>
      </div>
      <ToolOptions />
    </div>
  );
}

function ToolOptions(): JSX.Element | null {
  switch (tool.value) {
    case 'brush':
    case 'eraser':
      return (
        <div class="tool-options">
          <NumberField
            label="Brush, from its middle"
            value={brushMm.value}
            quantity={lengthMm}
            min={brushRange.min}
            max={brushRange.max}
            onChange={(value) => (brushMm.value = value)}
          />
          <input
            type="range"
            aria-label="Brush size"
            min={brushRange.min}
            max={120}
            step={1}
            value={brushMm.value}
            onInput={(event) => (brushMm.value = Number(event.currentTarget.value))}
          />
        </div>
      );
    case 'line':
      return (
        <div class="tool-options">
          <ChoiceRow
            label="Kind of line"
            value={lineKind.value}
            choices={kindsOfLine.map((value) => ({ value, title: lineWords[value] }))}
            onChange={(value) => (lineKind.value = value)}
          />
        </div>
      );
    case 'fitting':
      return (
        <div class="tool-options">
          <ChoiceRow
            label="Kind of fitting"
            value={fittingKind.value}
            choices={kindsOfFitting.map((value) => ({ value, title: upperFirst(value) }))}
            onChange={(value) => (fittingKind.value = value)}
          />
        </div>
      );
    case 'measure':
      return (
        <div class="tool-options">
          <ChoiceRow
            label="What is measured"
            value={measureKind.value}
            choices={kindsOfMeasure.map((value) => ({ value, title: upperFirst(value) }))}
            onChange={(value) => (measureKind.value = value)}
          />
        </div>
      );
    default:
      return null;
  }
}
