/*
 * The sample torso: the form of `torso-form.ts` as an even, irregular, mirror-symmetric mesh, its sections scaled until tape measures around the
 * mesh say what was asked. About 25,000 faces, closed: neck and arms end in stumps, the hips in a flat foot.
 */
import type { Vec3 } from '../src/base/arrays.ts';
import { buildMesh } from '../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../src/mesh/half-edge-mesh.ts';
import { convexHull, sectionOf } from '../src/body/section.ts';
import { perimeterOf } from '../src/plane/polygon.ts';
import { meshHalfAndMirror } from './implicit-surface.ts';
import { naturalSpline } from './natural-spline.ts';
import { torsoField } from './torso-form.ts';

/** A tape measure around the torso: the plane it lies in and what it must say, mm. */
export interface TapeGirth {
  readonly name: string;
  readonly point: Vec3;
  readonly normal: Vec3;
  readonly askedMm: number;
}

const level = (name: string, y: number, askedMm: number): TapeGirth => ({ name, point: [0, y, 0], normal: [0, 1, 0], askedMm });

/** From the hips up. The neck base runs from the pit of the neck up to the nape. */
export const torsoGirths: readonly TapeGirth[] = [
  level('hip girth', 870, 1004),
  level('waist girth', 1065, 746),
  level('underbust girth', 1165, 790),
  level('bust girth', 1226, 946),
  level('shoulder girth', 1320, 1056),
  { name: 'neck base girth', point: [0, 1440, -35], normal: [0, 0.925, Math.sqrt(1 - 0.925 * 0.925)], askedMm: 380 },
];

/** What a tape says around the longest closed section of the plane, mm. */
export function measureTape(mesh: HalfEdgeMesh, girth: TapeGirth): number {
  const closed = sectionOf(mesh, girth).find((line) => line.closed);
  return closed === undefined ? NaN : perimeterOf(convexHull(closed.points));
}

/** Sections are scaled about this axis: x = 0, z = −10. */
const axisZ = -10;

/**
 * The torso in mm, y up from the floor, z forward.
 * @param edgeMm mean edge length; 8 gives about 25,000 faces
 */
export async function makeTorso(edgeMm = 8): Promise<HalfEdgeMesh> {
  const form = await meshHalfAndMirror(torsoField, { x: 280, y: [790, 1510], z: [-190, 190] }, edgeMm);
  let factors = torsoGirths.map(() => 1);
  let mesh = form;
  for (let round = 0; round < 12; round++) {
    const measured = torsoGirths.map((girth) => measureTape(mesh, girth));
    if (measured.every((mm, i) => Math.abs(mm - torsoGirths[i].askedMm) < 0.01)) break;
    factors = factors.map((factor, i) => (factor * torsoGirths[i].askedMm) / measured[i]);
    mesh = scaleSections(form, factors);
  }
  return mesh;
}

function scaleSections(form: HalfEdgeMesh, factors: readonly number[]): HalfEdgeMesh {
  const factorAt = naturalSpline(
    torsoGirths.map((girth) => girth.point[1]),
    factors,
  );
  const p = form.positions;
  const scaled = Float64Array.from(p, (value, i) => {
    const factor = factorAt(p[i - (i % 3) + 1]);
    return i % 3 === 0 ? factor * value : i % 3 === 2 ? axisZ + factor * (value - axisZ) : value;
  });
  return buildMesh(scaled, form.faces);
}
