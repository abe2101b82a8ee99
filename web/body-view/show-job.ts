/*
 * What the scene shows of the job and its stages: effects from signals to layers.
 */
import { computed, effect } from '@preact/signals';
import { sheetThickness } from '../../src/materials/material.ts';
import { areaColour, isStriped } from '../colours/area-colours.ts';
import {
  body,
  cut,
  flats,
  foldBack,
  hoverSeam,
  hoverSpot,
  isBodyShown,
  isStrainShown,
  job,
  selection,
  station,
  strainBand,
  surfaces,
  traces,
} from '../state.ts';
import { knownMaterial } from '../known-material.ts';
import { pointedPlaces } from '../pointed-places.ts';
import { strainEnd } from '../strain-scale.ts';
import { isDark } from '../theme.ts';
import { lineColours, lineDashes } from '../tools/line-words.ts';
import type { Plane } from '../../src/body/body.ts';
import { mirrorPlane } from '../tools/mirror.ts';
import { dot, minus, mirrored, plus, unit } from './axes.ts';
import type { LineShow } from './line-layer.ts';
import { segmentsOf } from './segments.ts';
import type { PartShow } from './part-layer.ts';
import type { PointShow } from './point-layer.ts';
import type { BodyScene } from './scene.ts';

/** Stations at which the parts still lie on the skin. */
const isOnSkin = computed(() => station.value === 'body' || station.value === 'draw');

const partsShown = computed<readonly PartShow[]>(() => {
  const layers = surfaces.value ?? [];
  const own = job.value?.materials ?? [];
  const areas = (job.value?.marks.areas ?? []).map(({ id }) => id);
  const flatOf = new Map((flats.value ?? []).map((flat) => [flat.patch, flat]));
  return (cut.value?.patches ?? []).flatMap((patch) => {
    const surface = layers.find(({ layer }) => layer === patch.layer);
    if (!surface) return [];
    const index = Math.max(0, areas.indexOf(patch.area));
    const flat = flatOf.get(patch.id);
    const material = knownMaterial(patch.material, own);
    return [
      {
        patch,
        surface,
        ...(flat && flat.positions.length / 2 === patch.mesh.positions.length / 3 ? { flat } : {}),
        colour: areaColour(index),
        isStriped: isStriped(index),
        thicknessMm: material ? sheetThickness(material) : 6,
      },
    ];
  });
});

/** Binds a scene to the bench; the answer unbinds it. */
export function showJob(scene: BodyScene): () => void {
  const stops = [
    effect(() => {
      scene.setBody(body.value);
      if (body.value) scene.parts.set(partsShown.value, body.value.mesh);
      scene.redraw();
    }),
    effect(() => {
      scene.moveTo({ lift: isOnSkin.value ? 0 : 1, fold: foldBack.value });
    }),
    effect(() => {
      const picked = selection.value?.kind === 'part' ? selection.value.id : undefined;
      const seam = selection.value?.kind === 'seam' ? selection.value.id : undefined;
      scene.parts.setLook({
        byStrain: isStrainShown.value,
        strainEnd: strainEnd.value,
        band: strainBand.value,
        lit: hoverSpot.value?.patch ?? picked,
        seam: hoverSeam.value ?? seam,
      });
      scene.redraw();
    }),
    effect(() => {
      scene.lines.set(jobLines(scene));
      scene.redraw();
    }),
    effect(() => {
      scene.marks.set(marked(scene));
      scene.redraw();
    }),
    effect(() => scene.setBodyShown(isBodyShown.value)),
    effect(() => scene.setTone(isDark.value)),
  ];
  return () => stops.forEach((stop) => stop());
}

/** The drawn lines: on the skin while the maker draws, where the parts stand afterwards. */
function jobLines(scene: BodyScene): LineShow[] {
  const chosen = selection.value?.kind === 'line' ? selection.value.id : undefined;
  const kinds = new Map((job.value?.marks.lines ?? []).map((line) => [line.id, line.kind]));
  const isDrawing = station.value === 'draw';
  if (!isDrawing && chosen === undefined) return [];
  const plane = mirrorPlane();
  const isMirrored = new Map((job.value?.marks.lines ?? []).map((line) => [line.id, line.mirror]));
  return (traces.value ?? []).flatMap((trace) => {
    const id = trace.line.replace(/:mirror$/, '');
    const kind = kinds.get(id);
    if (!kind || (!isDrawing && id !== chosen)) return [];
    const segments = segmentsOf(isDrawing ? onSkin(scene, trace.positions) : trace.positions);
    const dash = lineDashes[kind];
    const lines: LineShow[] = [
      {
        segments,
        colour: lineColours[kind],
        widthPx: kind === 'reference' ? 1.4 : 2.6,
        isFollowed: id === chosen,
        ...(dash ? { dash } : {}),
      },
    ];
    if (isDrawing && plane && isMirrored.get(id) === true && !liesOn(plane, trace.positions))
      lines.push({ ...lines[0], segments: segmentsOf(onSkin(scene, mirrorImage(plane, trace.positions))), widthPx: 1.3 });
    return id === chosen ? [{ segments, colour: '#f0c75e', widthPx: 6 }, ...lines] : lines;
  });
}

function mirrorImage(plane: Plane, positions: Float64Array): Float64Array {
  const image = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3)
    image.set(mirrored([positions[i], positions[i + 1], positions[i + 2]], plane) ?? [0, 0, 0], i);
  return image;
}

/** A line along the plane of symmetry is its own mirror image. */
function liesOn({ point, normal }: Plane, positions: Float64Array): boolean {
  const n = unit(normal);
  for (let i = 0; i < positions.length; i += 3)
    if (Math.abs(dot(minus([positions[i], positions[i + 1], positions[i + 2]], point), n)) > 1) return false;
  return true;
}

function onSkin(scene: BodyScene, positions: Float64Array): Float32Array {
  const index = scene.index();
  const moved = Float32Array.from(positions);
  if (!index?.isReady()) return moved;
  for (let i = 0; i < moved.length; i += 3) {
    const hit = index.nearest([moved[i], moved[i + 1], moved[i + 2]]);
    if (hit) moved.set(plus(hit.at, hit.normal, 0.6), i);
  }
  return moved;
}

/** Fittings, the hovered place, and what a finding points at. */
function marked(scene: BodyScene): PointShow[] {
  const points: PointShow[] = [];
  if (station.value === 'draw') for (const { at } of job.value?.marks.points ?? []) points.push({ at, colour: '#009e73', sizePx: 12 });
  const spot = hoverSpot.value;
  const place = spot && scene.parts.placeOf(spot.patch, spot.face, spot.weights);
  if (place) points.push({ at: place, colour: '#fffaf2', sizePx: 12 });
  for (const at of pointedPlaces()) points.push({ at, colour: '#d55e00', sizePx: 16 });
  return points;
}
