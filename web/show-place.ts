/*
 * Going to where a finding lies: its station, its part or line, its place on the body.
 */
import type { Where } from '../src/base/failure.ts';
import type { Vec3 } from '../src/base/arrays.ts';
import { bodyScene } from './body-view/current-scene.ts';
import { pointedPlaces } from './pointed-places.ts';
import { cut, drafted, job, pointed, selection, station } from './state.ts';
import type { StationName } from './stations.ts';
import { stations } from './stations.ts';

/** Floors of the code that a finding may name, and the station where the maker can do something about it. */
const stationOfFloor: Readonly<Record<string, StationName>> = {
  read: 'body',
  body: 'body',
  units: 'body',
  standoff: 'clearance',
  clearance: 'clearance',
  materials: 'clearance',
  areas: 'draw',
  lines: 'draw',
  patches: 'draw',
  draw: 'draw',
  flatten: 'lay-flat',
  suggest: 'lay-flat',
  draft: 'draft',
  nest: 'sheets',
  sheets: 'sheets',
  export: 'print',
  output: 'print',
};

export function stationFor(code: string, where: Where): StationName | undefined {
  const named = stations.find(({ name }) => name === where.stage)?.name;
  return named ?? stationOfFloor[where.stage ?? ''] ?? stationOfFloor[code.split('/')[0]];
}

export function showPlace(where: Where, code = ''): void {
  const next = stationFor(code, where);
  if (next) station.value = next;
  const { item } = where;
  if (item !== undefined) {
    const patch = cut.value?.patches.find(({ id }) => id === item);
    const line = job.value?.marks.lines.find(({ id }) => id === item.replace(/:mirror$/, ''));
    const seam = drafted.value?.seams.find(({ id }) => id === item);
    if (patch) selection.value = { kind: 'part', id: patch.id };
    else if (line) selection.value = { kind: 'line', id: line.id };
    else if (seam) selection.value = { kind: 'seam', id: seam.id };
  }
  pointed.value = { ...(where.at ? { at: where.at } : {}), ...(where.faces ? { faces: where.faces } : {}) };
  const [place] = pointedPlaces();
  if (place) lookAt(place);
}

function lookAt(place: Vec3): void {
  const scene = bodyScene.value;
  scene?.lookAt(place, scene.index()?.nearest(place)?.normal);
}
