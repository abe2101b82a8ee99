/*
 * One drafted part on the paper: exactly the paths that the files will hold, layer by layer.
 */
import { useMemo } from 'preact/hooks';
import type { JSX } from 'preact';
import { hoverSeam, hoverSpot, selection } from '../state.ts';
import { layerPaths, polygonPath, polylinePath } from './curves.ts';
import { createFlatLocator } from './flat-locator.ts';
import type { DraftItem } from './paper-items.ts';
import { drawnToFlat, flatItems } from './paper-items.ts';

interface DraftProps {
  readonly item: DraftItem;
  readonly x: number;
  readonly y: number;
}

export function DraftOnPaper({ item, x, y }: DraftProps): JSX.Element {
  const { part, box } = item;
  const layers = useMemo(() => [...layerPaths(part.drawing)], [part]);
  const outline = useMemo(() => polygonPath(part.outline, ...part.holes), [part]);
  const flat = flatItems.value.find(({ patch }) => patch.id === part.id);
  const twin = useMemo(
    () => flat && { locator: createFlatLocator(flat.positions, flat.patch.mesh.faces), toFlat: drawnToFlat(part, flat.box) },
    [flat, part],
  );
  const isChosen = selection.value?.kind === 'part' && selection.value.id === part.id;
  const isLit = hoverSpot.value?.patch === part.id;

  function point(event: PointerEvent, target: SVGGElement): void {
    const matrix = target.getScreenCTM();
    if (!matrix || !twin) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const hit = twin.locator.at(...twin.toFlat(at.x, at.y));
    hoverSpot.value = hit ? { patch: part.id, face: hit.face, weights: hit.weights } : undefined;
  }

  return (
    <g
      class={`draft-part${isChosen ? ' chosen' : ''}${isLit ? ' lit' : ''}`}
      transform={`translate(${x - box.minX} ${y + box.maxY}) scale(1 -1)`}
    >
      <path class="shadow" d={outline} transform="translate(1.600 -2.200)" />
      <g
        onPointerMove={(event) => point(event, event.currentTarget)}
        onPointerLeave={() => (hoverSpot.value = undefined)}
        onClick={() => (selection.value = { kind: 'part', id: part.id })}
      >
        <path class="face" d={outline} fill-rule="evenodd" />
      </g>
      {layers.map(([layer, path]) => (
        <path key={layer} class={`layer ${layer}`} d={path} />
      ))}
      {part.sides.map((side) => {
        const isLitSide =
          side.seam !== undefined &&
          (side.seam === hoverSeam.value || (selection.value?.kind === 'seam' && selection.value.id === side.seam));
        return (
          <g
            key={side.id}
            class={`edge ${side.kind}${isLitSide ? ' lit' : ''}`}
            onPointerEnter={() => (hoverSeam.value = side.seam)}
            onPointerLeave={() => (hoverSeam.value = undefined)}
            onClick={() => {
              if (side.seam !== undefined) selection.value = { kind: 'seam', id: side.seam };
            }}
          >
            <title>{`${side.id}, ${side.lengthMm.toFixed(1)} mm`}</title>
            <path class="grip" d={polylinePath(side.seamLine)} />
            {isLitSide && <path class="line" d={polylinePath(side.seamLine)} />}
          </g>
        );
      })}
    </g>
  );
}
