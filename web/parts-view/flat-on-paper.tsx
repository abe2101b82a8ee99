/*
 * One flat part on the paper: its strain or its area's colour, its edges by kind, the seam that is pointed at, and the place that is
 * pointed at on the body.
 */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import { areaColour, isStriped } from '../colours/area-colours.ts';
import { strainEnd } from '../strain-scale.ts';
import { hoverSeam, hoverSpot, isStrainShown, job, selection, strainBand } from '../state.ts';
import { chainPoints, lengthOf, polygonPath, polylinePath } from './curves.ts';
import { createFlatLocator } from './flat-locator.ts';
import type { FlatItem } from './paper-items.ts';
import { paperView } from './paper-view.ts';
import { countWords, partName, sideWords, verdictWords } from './part-words.ts';
import type { StrainPicture } from './strain-picture.ts';
import { strainPicture } from './strain-picture.ts';

interface FlatProps {
  readonly item: FlatItem;
  readonly x: number;
  readonly y: number;
}

export function FlatOnPaper({ item, x, y }: FlatProps): JSX.Element {
  const { patch, flat, positions, box } = item;
  const edges = useMemo(
    () =>
      patch.sides.map((side) => {
        const points = chainPoints(patch.mesh, positions, side.halfEdges);
        return { side, path: polylinePath(points), lengthMm: lengthOf(points), points };
      }),
    [item],
  );
  const outline = useMemo(() => {
    const rings = patch.loops.map((loop) => loop.flatMap((i) => [...edges[i].points.slice(0, -2)]));
    return polygonPath(...rings);
  }, [edges]);
  const locator = useMemo(() => createFlatLocator(positions, patch.mesh.faces), [item]);
  const marks = useMemo(() => patch.marks.map((mark) => ({ mark, path: markPath(item, mark.points.face, mark.points.weights) })), [item]);
  const clip = `clip-${patch.id.replace(/[^\w-]/g, '-')}`;
  const isChosen = selection.value?.kind === 'part' && selection.value.id === patch.id;
  const isLit = hoverSpot.value?.patch === patch.id;
  const colour = colourOf(patch.area);

  /** Pointer to part coordinates: the part's own group carries the turn to y up. */
  function point(event: PointerEvent, target: SVGGElement): void {
    const matrix = target.getScreenCTM();
    if (!matrix) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const hit = locator.at(at.x, at.y);
    hoverSpot.value = hit ? { patch: patch.id, face: hit.face, weights: hit.weights } : undefined;
  }

  return (
    <g
      class={`flat-part${isChosen ? ' chosen' : ''}${isLit ? ' lit' : ''}`}
      transform={`translate(${x - box.minX} ${y + box.maxY}) scale(1 -1)`}
    >
      <path class="shadow" d={outline} transform="translate(1.600 -2.200)" />
      <clipPath id={clip}>
        <path d={outline} clip-rule="evenodd" />
      </clipPath>
      <g
        onPointerMove={(event) => point(event, event.currentTarget)}
        onPointerLeave={() => (hoverSpot.value = undefined)}
        onClick={() => (selection.value = { kind: 'part', id: patch.id })}
      >
        <path class="face" d={outline} fill-rule="evenodd" style={{ fill: isStrainShown.value ? undefined : colour.fill }} />
        {isStrainShown.value && <StrainFace item={item} clip={clip} />}
        {!isStrainShown.value && colour.isStriped && <path class="stripes" d={outline} fill-rule="evenodd" />}
      </g>
      {marks.map(({ mark, path }) => (
        <path key={mark.line} class={`mark ${mark.kind}`} d={path} />
      ))}
      {edges.map(({ side, path, lengthMm }, i) => (
        <g
          key={i}
          class={`edge ${side.kind}${side.seam !== undefined && side.seam === hoverSeam.value ? ' lit' : ''}${isChosenSeam(side.seam) ? ' lit' : ''}`}
          onPointerEnter={() => (hoverSeam.value = side.seam)}
          onPointerLeave={() => (hoverSeam.value = undefined)}
          onClick={() => {
            if (side.seam !== undefined) selection.value = { kind: 'seam', id: side.seam };
          }}
        >
          <title>{`${edgeWords[side.kind]}, ${lengthMm.toFixed(1)} mm`}</title>
          <path class="grip" d={path} />
          <path class="line" d={path} />
        </g>
      ))}
      <Words item={item} verdict={verdictWords[flat.verdict]} />
      <HoverMark item={item} />
    </g>
  );
}

const isChosenSeam = (seam: string | undefined): boolean =>
  seam !== undefined && selection.value?.kind === 'seam' && selection.value.id === seam;

const edgeWords = { seam: 'seam', dart: 'dart', opening: 'opening', border: 'finished edge' } as const;

function colourOf(area: string): { readonly fill: string; readonly isStriped: boolean } {
  const index = Math.max(
    0,
    (job.value?.marks.areas ?? []).findIndex(({ id }) => id === area),
  );
  return { fill: `color-mix(in oklab, ${areaColour(index)} 42%, var(--sheet))`, isStriped: isStriped(index) };
}

function StrainFace({ item, clip }: { readonly item: FlatItem; readonly clip: string }): JSX.Element | null {
  const [picture, setPicture] = useState<StrainPicture | undefined>(undefined);
  const end = strainEnd.value;
  const band = strainBand.value;
  useEffect(() => {
    let isGone = false;
    void strainPicture(item.patch.mesh, item.flat, item.positions, { strainEnd: end, band }).then((made) => {
      if (!isGone) setPicture(made);
    });
    return () => {
      isGone = true;
    };
  }, [item, end, band]);
  if (!picture) return null;
  return (
    <g clip-path={`url(#${clip})`} class="strain">
      <image
        href={picture.address}
        x={picture.x}
        y={-(picture.y + picture.height)}
        width={picture.width}
        height={picture.height}
        preserveAspectRatio="none"
        transform="scale(1 -1)"
      />
    </g>
  );
}

/** Name, side and count at the middle, always of the same size to the eye. */
function Words({ item, verdict }: { readonly item: FlatItem; readonly verdict: string }): JSX.Element | null {
  const { patch, box } = item;
  const { scale } = paperView.value;
  if ((box.maxX - box.minX) * scale < 70) return null;
  const [cx, cy] = useMemo(() => wordsPlace(item), [item]);
  return (
    <g class="words" transform={`translate(${cx} ${cy}) scale(${1 / scale} ${-1 / scale})`} aria-hidden="true">
      <text class="name">
        {partName(patch)}
        {patch.pair !== undefined ? '' : patch.side === 'C' ? '' : ` · ${sideWords[patch.side]}`}
      </text>
      {(box.maxX - box.minX) * scale > 130 && (
        <>
          <text class="count" y="17">
            {countWords(patch.side, patch.pair)}
          </text>
          <text class="count" y="33">
            {verdict}
          </text>
        </>
      )}
    </g>
  );
}

/** Middle of the face that lies deepest inside: the words stay on the part even when it is bent round. */
function wordsPlace({ patch, positions, box }: FlatItem): readonly [number, number] {
  const { faces, twin } = patch.mesh;
  const border: number[] = [];
  for (let h = 0; h < faces.length; h++) if (twin[h] === -1) border.push(positions[2 * faces[h]], positions[2 * faces[h] + 1]);
  const thin = Math.max(1, Math.floor(border.length / 2 / 80));
  const middle = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  let best: readonly [number, number] = [middle[0], middle[1]];
  let most = -Infinity;
  const skip = Math.max(1, Math.floor(faces.length / 3 / 200));
  for (let f = 0; f < faces.length / 3; f += skip) {
    const x = (positions[2 * faces[3 * f]] + positions[2 * faces[3 * f + 1]] + positions[2 * faces[3 * f + 2]]) / 3;
    const y = (positions[2 * faces[3 * f] + 1] + positions[2 * faces[3 * f + 1] + 1] + positions[2 * faces[3 * f + 2] + 1]) / 3;
    let room = Infinity;
    for (let i = 0; i < border.length; i += 2 * thin) room = Math.min(room, Math.hypot(x - border[i], y - border[i + 1]));
    const score = room - 0.15 * Math.hypot(x - middle[0], y - middle[1]);
    if (score > most) [best, most] = [[x, y], score];
  }
  return best;
}

function HoverMark({ item }: { readonly item: FlatItem }): JSX.Element | null {
  const spot = hoverSpot.value;
  const { faces } = item.patch.mesh;
  if (spot?.patch !== item.patch.id || 3 * spot.face >= faces.length) return null;
  let [x, y] = [0, 0];
  for (let i = 0; i < 3; i++) {
    const v = faces[3 * spot.face + i];
    x += spot.weights[i] * item.positions[2 * v];
    y += spot.weights[i] * item.positions[2 * v + 1];
  }
  return <circle class="hover-mark" cx={x} cy={y} r={6 / paperView.value.scale} />;
}

function markPath({ patch, positions }: FlatItem, face: ArrayLike<number>, weights: ArrayLike<number>): string {
  const points = new Float64Array(2 * face.length);
  for (let i = 0; i < face.length; i++)
    for (let j = 0; j < 3; j++) {
      const v = patch.mesh.faces[3 * face[i] + j];
      points[2 * i] += weights[3 * i + j] * positions[2 * v];
      points[2 * i + 1] += weights[3 * i + j] * positions[2 * v + 1];
    }
  return polylinePath(points);
}
