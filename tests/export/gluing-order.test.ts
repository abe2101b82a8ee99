/* Also seam-places.ts, which tells where parts touch. */
import { describe, expect, it } from 'vitest';
import type { DraftedPart, DraftedSeam } from '../../src/draft/drafted-part.ts';
import type { FlatPicture } from '../../src/export/exporter.ts';
import { gluingOrder } from '../../src/export/gluing-order.ts';
import { seamPlaces } from '../../src/export/seam-places.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { squarePart } from '../support/drawings.ts';

type Place = readonly [number, number, number];

/** A patch of one square through four places, counter-clockwise. */
const patch = (part: string, ...places: readonly Place[]): FlatPicture => ({
  part,
  mesh: buildMesh(Float64Array.from(places.flat()), Uint32Array.of(0, 1, 2, ...(places.length > 3 ? [0, 2, 3] : []))),
  flat: new Float64Array(2 * places.length),
  strain: new Float64Array(places.length - 2),
});
const part = (id: string, letter: string, fields: Partial<DraftedPart> = {}): DraftedPart => squarePart(100, { id, letter, fields });
const seam = (id: string, first: string, second: string, surfaceMm: number, kind: 'seam' | 'dart' = 'seam'): DraftedSeam => ({
  id,
  kind,
  line: id,
  sides: [`${first}-${id}`, `${second}-${id}`],
  parts: [first, second],
  lengthsMm: [surfaceMm, surfaceMm],
  differenceMm: 0,
  surfaceMm,
  bevelDeg: { min: 0, max: 0 },
  code: id,
  stretchesMm: [],
  refused: false,
});

// A vest: fronts left and right (z > 0), back in the middle (z < 0), shoulders at height 100, sides at height 0…60; a cap of four gores.
const pictures = [
  patch('front.1.L', [0, 0, 50], [40, 0, 50], [40, 100, 0], [0, 60, 50]),
  patch('front.1.R', [-40, 0, 50], [0, 0, 50], [0, 60, 50], [-40, 100, 0]),
  patch('back.1.C', [40, 0, -50], [-40, 0, -50], [-40, 100, 0], [40, 100, 0]),
  patch('cap.1.L', [90, 90, 0], [100, 80, 0], [90, 80, 10]),
  patch('cap.2.L', [90, 90, 0], [90, 80, 10], [80, 80, 0]),
  patch('cap.3.L', [90, 90, 0], [80, 80, 0], [90, 80, -10]),
  patch('cap.4.L', [90, 90, 0], [90, 80, -10], [100, 80, 0]),
];
const parts = [
  part('front.1.L', 'A'),
  part('front.1.R', 'B'),
  part('back.1.C', 'C', { sides: [{ id: 'C9', kind: 'opening', lengthMm: 20, allowanceMm: 0, seamLine: new Float64Array(4) }] }),
  ...['cap.1.L', 'cap.2.L', 'cap.3.L', 'cap.4.L'].map((id, k) => part(id, 'EFGH'[k], { area: 'cap', verdict: 'hot' })),
];
const seams = [
  seam('centre', 'front.1.L', 'front.1.R', 60),
  seam('shoulder-left', 'front.1.L', 'back.1.C', 40),
  seam('shoulder-right', 'front.1.R', 'back.1.C', 41),
  seam('dart', 'front.1.L', 'front.1.L', 30, 'dart'),
  seam('g12', 'cap.1.L', 'cap.2.L', 10),
  seam('g23', 'cap.2.L', 'cap.3.L', 12),
  seam('g34', 'cap.3.L', 'cap.4.L', 11),
];

describe('gluingOrder', () => {
  const steps = gluingOrder({ parts, seams, pictures, up: 'y', front: 'z' });
  it('forms, then darts, gores, centre, shoulders, and leaves openings open [common practice, no source]', () => {
    expect(steps.map(({ kind }) => kind)).toEqual(['form', 'dart', 'gore', 'centre', 'shoulder', 'open']);
    expect(steps.find(({ kind }) => kind === 'form')?.parts).toEqual(['cap.1.L', 'cap.2.L', 'cap.3.L', 'cap.4.L']);
    expect(steps.find(({ kind }) => kind === 'shoulder')?.seams).toEqual(['shoulder-right', 'shoulder-left']);
    expect(steps.at(-1)?.title).toContain('C9');
  });
  it('glues every seam exactly once [invariant]', () => {
    expect(steps.flatMap((step) => step.seams).sort()).toEqual(seams.map(({ id }) => id).sort());
  });
  it('goes on at what is joined, longest first [closed form]', () => {
    expect(steps.find(({ kind }) => kind === 'gore')?.seams).toEqual(['g23', 'g34', 'g12']);
  });
  it('gives a reason for every step', () => {
    for (const { reason, title } of steps) expect(reason.length + title.length).toBeGreaterThan(40);
  });
  it('does not depend on the body’s axes: turned by a quarter, the same order [invariant]', () => {
    const lying = pictures.map((picture) => ({
      ...picture,
      mesh: buildMesh(
        Float64Array.from(picture.mesh.positions, (_, k) =>
          k % 3 === 0 ? picture.mesh.positions[k] : k % 3 === 1 ? -picture.mesh.positions[k + 1] : picture.mesh.positions[k - 1],
        ),
        Uint32Array.from(picture.mesh.faces),
      ),
    }));
    expect(gluingOrder({ parts, seams, pictures: lying, up: 'z', front: '-y' })).toEqual(steps);
  });
});

describe('seamPlaces', () => {
  const places = seamPlaces(pictures);
  it('finds the middle of what two parts share, and nothing where they share nothing [closed form]', () => {
    expect(places.between('front.1.L', 'front.1.R')).toEqual([0, 30, 50]);
    expect(places.between('front.1.L', 'cap.1.L')).toBeUndefined();
  });
  it('finds the tip of the gores [closed form]', () => {
    expect(places.tipOf(['cap.1.L', 'cap.2.L', 'cap.3.L', 'cap.4.L'])).toEqual([90, 90, 0]);
  });
});
