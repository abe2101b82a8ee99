/*
 * One sheet of stock with its parts, as its files will draw it.
 */
import { useMemo } from 'preact/hooks';
import type { JSX } from 'preact';
import type { Curve } from '../../src/draft/drawing.ts';
import { hoverSpot, selection } from '../state.ts';
import { curvePath, layerPaths } from './curves.ts';
import type { SheetItem } from './paper-items.ts';
import { paperView } from './paper-view.ts';

interface SheetProps {
  readonly item: SheetItem;
  readonly x: number;
  readonly y: number;
}

export function SheetOnPaper({ item, x, y }: SheetProps): JSX.Element {
  const { sheet, drawing } = item;
  const layers = useMemo(() => [...layerPaths(drawing, (part) => part !== undefined)], [drawing]);
  const loose = useMemo(() => [...layerPaths(drawing, (part) => part === undefined)], [drawing]);
  const outlines = useMemo(() => {
    const cuts = new Map<string, Curve[]>();
    for (const { layer, part, curve } of drawing.paths)
      if (part !== undefined && (layer === 'CUT' || layer === 'CUT_INSIDE')) cuts.set(part, [...(cuts.get(part) ?? []), curve]);
    return [...cuts].map(([part, curves]) => ({ part, path: curves.map(curvePath).join('') }));
  }, [drawing]);
  const { scale } = paperView.value;
  return (
    <g class="stock-sheet" transform={`translate(${x} ${y + sheet.heightMm}) scale(1 -1)`}>
      <rect class="shadow" width={sheet.widthMm} height={sheet.heightMm} transform="translate(3 -4)" />
      <rect class="stock" width={sheet.widthMm} height={sheet.heightMm} />
      {outlines.map(({ part, path }) => (
        <path
          key={part}
          class={`face${selection.value?.kind === 'part' && selection.value.id === part ? ' chosen' : ''}${hoverSpot.value?.patch === part ? ' lit' : ''}`}
          d={path}
          fill-rule="evenodd"
          onClick={() => (selection.value = { kind: 'part', id: part })}
        />
      ))}
      {layers.map(([layer, path]) => (
        <path key={layer} class={`layer ${layer}`} d={path} />
      ))}
      <g class="loose">
        {loose.map(([layer, path]) => (
          <path key={layer} class={`layer ${layer}`} d={path} />
        ))}
      </g>
      <g class="words" transform={`translate(0 ${sheet.heightMm + 8 / scale}) scale(${1 / scale} ${-1 / scale})`}>
        <text class="name start">
          {sheet.id.replace('sheet-', 'Sheet ')} · {sheet.stock} · {Math.round(100 * sheet.use)}&#8239;% used
        </text>
      </g>
    </g>
  );
}
