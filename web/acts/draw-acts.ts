/*
 * Tools, kinds of line, brush size and areas.
 */
import { act } from '../desk.ts';
import { activeArea, brushMm, job, lineKind, openJob, tool } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { tools } from '../tools/index.ts';
import { lineWords } from '../tools/line-words.ts';
import { freeAreaName, freeId } from '../tools/names.ts';
import { brushRange } from '../tools/stroke-hand.ts';
import type { Act } from './act.ts';

const hasJob = (): boolean => openJob.value !== undefined;
const sized = (by: number): void => {
  brushMm.value = Math.round(Math.min(brushRange.max, Math.max(brushRange.min, brushMm.value * by)) * 2) / 2;
};

export function addArea(): void {
  const areas = job.value?.marks.areas ?? [];
  const id = freeId('area', areas);
  if (act({ kind: 'add-area', args: { area: { id, name: freeAreaName(areas), layer: 0, growMm: 0, forming: 'domed', strokes: [] } } }))
    activeArea.value = id;
}

function nextArea(): void {
  const areas = job.value?.marks.areas ?? [];
  const at = areas.findIndex(({ id }) => id === activeArea.value);
  activeArea.value = areas[(at + 1) % Math.max(1, areas.length)]?.id;
}

export const drawActs: readonly Act[] = [
  ...tools.map((entry): Act => ({
    id: `tool-${entry.name}`,
    title: `${entry.title}`,
    group: 'Draw',
    keys: entry.key,
    words: `tool ${entry.hint}`,
    isReady: hasJob,
    isOn: () => tool.value === entry.name,
    run: () => takeTool(entry.name),
  })),
  ...(['seam', 'opening', 'drawn', 'reference'] as const).map((kind): Act => ({
    id: `line-${kind}`,
    title: `Draw ${kind === 'opening' ? 'an' : 'a'} ${lineWords[kind].toLowerCase()}`,
    group: 'Draw',
    words: 'line kind',
    isReady: hasJob,
    run: () => {
      lineKind.value = kind;
      takeTool('line');
    },
  })),
  { id: 'brush-larger', title: 'Larger brush', group: 'Draw', keys: ']', isReady: hasJob, run: () => sized(1.15) },
  { id: 'brush-smaller', title: 'Smaller brush', group: 'Draw', keys: '[', isReady: hasJob, run: () => sized(1 / 1.15) },
  { id: 'add-area', title: 'Add an area', group: 'Draw', keys: 'Shift+A', words: 'new paint', isReady: hasJob, run: addArea },
  {
    id: 'next-area',
    title: 'Next area',
    group: 'Draw',
    keys: 'A',
    words: 'choose paint',
    isReady: () => (job.value?.marks.areas.length ?? 0) > 1,
    run: nextArea,
  },
];
