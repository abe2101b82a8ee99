/*
 * What brush and eraser share: a stroke over the skin, shown as it grows, mirrored where the mirror is on, and one command on release.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import type { Stroke } from '../../src/areas/area.ts';
import { showMm } from '../fields/quantity.ts';
import { act } from '../desk.ts';
import { areaColour } from '../colours/area-colours.ts';
import { activeArea, brushMm, job, stages } from '../state.ts';
import { freeAreaName, freeId } from './names.ts';
import { mirrorHit } from './mirror.ts';
import type { Pointing, ToolHand, ToolView } from './tool.ts';
import { rounded } from './tool.ts';

/** Samples of a stroke lie this share of the radius apart. */
const sampleShare = 0.25;
export const brushRange = { min: 2, max: 200 } as const;

interface Sample {
  readonly at: Vec3;
  readonly face: number;
}

/** The area to paint on: the active one, else the first. */
export const paintedArea = (): string | undefined => {
  const areas = job.value?.marks.areas ?? [];
  return areas.find(({ id }) => id === activeArea.value)?.id ?? areas[0]?.id;
};

export function strokeHand(view: ToolView, mode: 'paint' | 'erase'): ToolHand {
  const { scene } = view;
  let points: Vec3[] = [];
  let samples: Sample[] = [];
  let held: (() => void) | undefined;

  const colour = (): string => {
    const areas = job.value?.marks.areas ?? [];
    const index = areas.findIndex(({ id }) => id === paintedArea());
    return areaColour(index === -1 ? areas.length : index);
  };

  function ring(at: Pointing): void {
    const places = at.hit ? [at.hit, mirrorHit(scene.index(), at.hit.at)] : [];
    scene.setRings(places.flatMap((place) => (place ? [{ at: place.at, radiusMm: brushMm.value }] : [])));
  }

  function show(): void {
    scene.bodyLayer.showStroke({ samples, radiusMm: brushMm.value, colour: colour(), isErasing: mode === 'erase' });
    scene.redraw();
  }

  function add(at: Pointing): void {
    if (!at.hit) return;
    const last = points.at(-1);
    if (last && Math.hypot(at.hit.at[0] - last[0], at.hit.at[1] - last[1], at.hit.at[2] - last[2]) < sampleShare * brushMm.value) return;
    points.push(rounded(at.hit.at));
    const image = mirrorHit(scene.index(), at.hit.at);
    samples = [...samples, at.hit, ...(image ? [image] : [])];
    show();
  }

  function clear(): void {
    points = [];
    samples = [];
    scene.bodyLayer.showStroke(undefined);
    scene.redraw();
  }

  /** The stroke stays on show until the worker's own border of the area takes its place. */
  function clearWhenDrawn(): void {
    held?.();
    const before = stages.value.draw.value;
    let isFirst = true;
    held = stages.subscribe(({ draw }) => {
      if (!isFirst && (draw.value !== before || draw.status === 'failed' || draw.status === 'empty')) {
        clear();
        held?.();
        held = undefined;
      }
      isFirst = false;
    });
  }

  return {
    over: ring,
    out: () => scene.setRings([]),
    down: (at) => {
      if (!at.hit) return false;
      held?.();
      held = undefined;
      clear();
      add(at);
      return true;
    },
    move: (at) => {
      ring(at);
      add(at);
    },
    up: () => {
      if (points.length === 0) return;
      const stroke: Stroke = { mode, points, radiusMm: brushMm.value };
      points = [];
      if (takeStroke(stroke)) clearWhenDrawn();
      else clear();
    },
    wheel: (turns, at) => {
      brushMm.value = Math.round(Math.min(brushRange.max, Math.max(brushRange.min, brushMm.value * 1.12 ** -turns)) * 2) / 2;
      view.note(`brush ${showMm(2 * brushMm.value, 0)} across`, at?.hit?.at);
      if (at) ring(at);
      return true;
    },
    cancel: () => {
      const wasBusy = points.length > 0;
      clear();
      if (!wasBusy) scene.setRings([]);
      return wasBusy;
    },
  };
}

/** One command: the stroke on its area, or a new area that begins with it. */
export function takeStroke(stroke: Stroke): boolean {
  const area = paintedArea();
  if (area !== undefined) return act({ kind: 'add-stroke', args: { area, stroke } });
  if (stroke.mode === 'erase') return false;
  const areas = job.value?.marks.areas ?? [];
  const id = freeId('area', areas);
  const isTaken = act({
    kind: 'add-area',
    args: { area: { id, name: freeAreaName(areas), layer: 0, growMm: 0, forming: 'domed', strokes: [stroke] } },
  });
  if (isTaken) activeArea.value = id;
  return isTaken;
}
