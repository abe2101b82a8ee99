/*
 * The sample job, from our own stage play "The Tide Wardens": the chest armour of a tide warden. One half is drawn on the wearer's left and
 * mirrored: breastplate (upper and lower panel with a dart, side panel), collar, a shoulder cap in four gores, a drawn shell ridge and a
 * reference line down the middle of the panels.
 */
import type { AreaMark, Stroke } from '../../src/areas/area.ts';
import type { Vec3 } from '../../src/base/arrays.ts';
import { tan } from '../../src/base/elementary.ts';
import type { Job } from '../../src/job/job.ts';
import type { LineMark } from '../../src/lines/line.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import type { SpatialIndex } from '../../src/mesh/spatial.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import type { SourceFile } from '../../src/read/triangle-soup.ts';
import { toRadians } from '../../src/units/angle.ts';
import { writeGlb } from '../mesh-files.ts';
import { makeTorso, torsoGirths } from '../torso.ts';
import { along, onBody, paint, towards } from './on-surface.ts';
import type { Place } from './on-surface.ts';

/** Rays run towards this upright axis. */
const axisZ = -10;
const brush = 20;

/** The sample job and its body file. */
export async function sampleJob(): Promise<{ readonly job: Job; readonly file: SourceFile }> {
  const torso = await makeTorso();
  return { job: tideWarden(torso), file: { name: 'body.glb', bytes: writeGlb(torso, 'torso') } };
}

/** The job on a given torso, mm. */
export function tideWarden(torso: HalfEdgeMesh): Job {
  const index = createSpatialIndex(torso);
  return {
    plastron: 1,
    name: 'Tide warden, chest',
    date: '2026-11-25',
    body: {
      file: 'body.glb',
      scale: 1,
      up: 'y',
      front: 'z',
      wornMm: 0,
      mend: [],
      measures: torsoGirths
        .filter((girth) => girth.normal[1] === 1)
        .map((girth) => ({ name: girth.name, kind: 'girth', points: [onBody(index, [0, girth.point[1]], axisZ)], tapeMm: girth.askedMm })),
      mirror: { point: [0, 0, 0], normal: [1, 0, 0], shape: 'as-is' },
    },
    standoff: { clearanceMm: 5, paddingMm: 0, bridgeHollowsMm: 0, ease: [], layers: ['eva-6'] },
    marks: {
      mirrored: true,
      areas: [breastplate(index), collar(index), shoulderCap(index)],
      lines: lines(index),
      points: [],
      names: [
        { at: onBody(index, [40, 1290], axisZ), name: 'Breast, upper' },
        { at: onBody(index, [20, 1170], axisZ), name: 'Breast, lower' },
        { at: onBody(index, [88, 1180], axisZ), name: 'Flank' },
      ],
    },
    flats: { method: 'shape' },
    draft: { tracedFace: 'inner', notch: 'tick', bevel: true, sides: [] },
    sheets: {
      stock: [{ name: 'tile', material: 'eva-6', widthMm: 600, heightMm: 600, count: 8, marginMm: 20, turns: 'any', price: 5 }],
    },
    output: { tool: 'hand', formats: ['svg', 'dxf-r12', 'pdf-tiles', 'build-sheet'], paper: 'a4', printFactor: [1, 1] },
    materials: [],
  };
}

/** From beyond the middle of the front to the flank, from below the bust to the collar bone, with the armhole cut out. */
const breastOutline: readonly Place[] = [
  [-4, 1142],
  [-4, 1318],
  [14, 1334],
  [34, 1334],
  [48, 1308],
  [60, 1268],
  [78, 1240],
  [100, 1232],
  [102, 1142],
  [-4, 1142],
];

function breastplate(index: SpatialIndex): AreaMark {
  const strokes: Stroke[] = [paint(along(index, breastOutline, axisZ, 8), brush)];
  for (let height = 1160; height < 1334; height += 18) {
    const last = height <= 1232 ? 100 : height <= 1268 ? 60 : height <= 1308 ? 48 : 34;
    strokes.push(
      paint(
        along(
          index,
          [
            [-4, height],
            [last, height],
          ],
          axisZ,
          8,
        ),
        brush,
      ),
    );
  }
  return { id: 'breast', name: 'Breastplate', layer: 0, growMm: 0, forming: 'domed', strokes };
}

/** A band around the neck, rising to the nape. */
function collar(index: SpatialIndex): AreaMark {
  const places: Place[] = [];
  for (let angle = -6; angle <= 186; angle += 6) places.push([angle, 1442 + (10 * (angle + 6)) / 192]);
  const centre = -28;
  return { id: 'collar', name: 'Collar', layer: 0, growMm: 0, forming: 'bent', strokes: [paint(along(index, places, centre, 6), 17)] };
}

/** The middle of the upper arm's head, and the way up and out from it to the point where the four gores meet. */
const joint: Vec3 = [158, 1335, -34];
const capMiddle: Vec3 = [0.82, 0.57, 0];

/** A unit direction from the joint: turned from the cap's middle by an angle towards the front (z), the back, the neck or the hand. */
function aroundCap(angle: number, towardsFront: number, towardsHand: number): Vec3 {
  const across: Vec3 = [capMiddle[1] * towardsHand, -capMiddle[0] * towardsHand, towardsFront];
  const t = tan(toRadians(angle));
  const raw: Vec3 = [capMiddle[0] + t * across[0], capMiddle[1] + t * across[1], capMiddle[2] + t * across[2]];
  const size = Math.hypot(...raw);
  return [raw[0] / size, raw[1] / size, raw[2] / size];
}

function shoulderCap(index: SpatialIndex): AreaMark {
  const middle = towards(index, joint, aroundCap(0, 0, 0));
  return { id: 'shoulder', name: 'Shoulder cap', layer: 0, growMm: 0, forming: 'domed', strokes: [paint([middle], 62)] };
}

function lines(index: SpatialIndex): LineMark[] {
  const at = (angle: number, height: number): Vec3 => onBody(index, [angle, height], axisZ);
  const cap = (angle: number, front: number, hand: number): Vec3 => towards(index, joint, aroundCap(angle, front, hand));
  const base = { closed: false, mirror: true } as const;
  return [
    { ...base, id: 'centre-front', kind: 'seam', path: 'plane', mirror: false, points: [at(0, 1105), at(0, 1230), at(0, 1365)] },
    {
      ...base,
      id: 'breast-split',
      kind: 'seam',
      path: 'smooth',
      points: [at(0, 1222), at(20, 1222), at(38, 1228), at(55, 1226), at(68, 1218)],
    },
    { ...base, id: 'side-split', kind: 'seam', path: 'smooth', points: [at(73, 1284), at(68, 1218), at(70, 1170), at(70, 1105)] },
    { ...base, id: 'bust-dart', kind: 'dart', path: 'shortest', points: [at(36, 1105), at(37, 1196)] },
    { ...base, id: 'shell-ridge', kind: 'drawn', path: 'smooth', points: [at(6, 1300), at(22, 1276), at(38, 1266), at(52, 1262)] },
    { ...base, id: 'breast-centre', kind: 'reference', path: 'plane', points: [at(36, 1350), at(38, 1228), at(37, 1200)] },
    {
      ...base,
      id: 'collar-back',
      kind: 'opening',
      path: 'plane',
      mirror: false,
      points: [onBody(index, [180, 1425], -28), onBody(index, [180, 1475], -28)],
    },
    { ...base, id: 'gore-across', kind: 'seam', path: 'shortest', points: [cap(65, 1, 0), cap(0, 0, 0), cap(65, -1, 0)] },
    { ...base, id: 'gore-down', kind: 'seam', path: 'shortest', points: [cap(65, 0, -1), cap(0, 0, 0), cap(65, 0, 1)] },
  ];
}
