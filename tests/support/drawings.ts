/*
 * Hand-made drafted parts, sheets and export input: small shapes with every layer, curves, a hole, letters and names that are not ASCII.
 */
import type { Vec2 } from '../../src/base/arrays.ts';
import type { DraftedPart, DraftedSeam } from '../../src/draft/drafted-part.ts';
import type { Curve, Drawing, DrawingLabel, DrawingPath, LayerName, Segment } from '../../src/draft/drawing.ts';
import type { ExportInput, ExportOptions } from '../../src/export/exporter.ts';
import { drawSheets } from '../../src/export/sheet-drawing.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { signedArea } from '../../src/plane/polygon.ts';
import type { Distribution } from '../../src/flatten/flat-part.ts';
import type { Figure, Material } from '../../src/materials/material.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { PlacedPart, Sheet } from '../../src/nest/sheet.ts';

const still: Distribution = { min: 0, median: 0, p95: 0, p99: 0, max: 0 };
const one: Distribution = { min: 1, median: 1, p95: 1, p99: 1, max: 1 };

/** A closed curve through straight corners. */
export function straightCurve(corners: readonly Vec2[], closed = true): Curve {
  const rest = closed ? [...corners.slice(1), corners[0]] : corners.slice(1);
  return { start: corners[0], segments: rest.map((to): Segment => ({ kind: 'line', to })), closed };
}

/** Four cubic Béziers that run within 0.03 % of a circle, counter-clockwise, or clockwise for a hole. */
export function roundCurve([x, y]: Vec2, radiusX: number, radiusY = radiusX, clockwise = false): Curve {
  const k = 0.5522847498;
  const side = clockwise ? -1 : 1;
  const at = (u: number, v: number): Vec2 => [x + radiusX * u, y + side * radiusY * v];
  const arc = (u0: number, v0: number, u1: number, v1: number): Segment => ({
    kind: 'cubic',
    c1: at(u0 + k * u1, v0 + k * v1),
    c2: at(u1 + k * u0, v1 + k * v0),
    to: at(u1, v1),
  });
  return { start: at(1, 0), closed: true, segments: [arc(1, 0, 0, 1), arc(0, 1, -1, 0), arc(-1, 0, 0, -1), arc(0, -1, 1, 0)] };
}

/** Square signs, one a letter: enough to follow letters through placement and files. */
export function boxLetters(label: DrawingLabel): DrawingPath[] {
  const [c, s] = [Math.cos(label.angle), Math.sin(label.angle)];
  const h = label.heightMm;
  const at = (u: number, v: number): Vec2 => [label.at[0] + u * c - v * s, label.at[1] + u * s + v * c];
  return [...label.text].flatMap((letter, k): DrawingPath[] => {
    if (letter === ' ') return [];
    const u = 0.9 * h * k;
    const curve = straightCurve([at(u, 0), at(u, h), at(u + 0.6 * h, h), at(u + 0.6 * h, 0)], false);
    return [{ layer: 'TEXT', curve, ...(label.part === undefined ? {} : { part: label.part }) }];
  });
}

interface PartShape {
  readonly id: string;
  readonly letter: string;
  readonly name: string;
  readonly material?: string;
  readonly outline: Curve;
  readonly holes?: readonly Curve[];
  readonly marks?: readonly (readonly [LayerName, Curve])[];
  readonly labels?: readonly Omit<DrawingLabel, 'part'>[];
  readonly fields?: Partial<DraftedPart>;
}

/** A drafted part from its shape; everything about strain is nought. */
export function handPart(shape: PartShape): DraftedPart {
  const part = shape.id;
  const labels = (shape.labels ?? []).map((label): DrawingLabel => ({ ...label, part }));
  const outline = flattenCurve(shape.outline, 0.002);
  const holes = (shape.holes ?? []).map((hole) => flattenCurve(hole, 0.002));
  const area = signedArea(outline) + holes.reduce((sum, hole) => sum + signedArea(hole), 0);
  const drawing: Drawing = {
    paths: [
      { layer: 'CUT', curve: shape.outline, part },
      ...(shape.holes ?? []).map((curve): DrawingPath => ({ layer: 'CUT_INSIDE', curve, part })),
      ...(shape.marks ?? []).map(([layer, curve]): DrawingPath => ({ layer, curve, part })),
      ...labels.flatMap(boxLetters),
    ],
    labels,
  };
  return {
    id: shape.id,
    letter: shape.letter,
    name: shape.name,
    side: shape.id.endsWith('.L') ? 'L' : shape.id.endsWith('.R') ? 'R' : 'C',
    area: shape.id.split('.')[0],
    layer: 0,
    material: shape.material ?? 'eva-6',
    count: 1,
    faces: 2,
    areaMm2: area,
    surfaceAreaMm2: area,
    summary: {
      method: 'shape',
      iterations: 1,
      converged: true,
      flips: 0,
      overlaps: 0,
      surfaceAreaMm2: area,
      flatAreaMm2: area,
      areaRatio: { min: 1, mean: 1, max: 1 },
      sigma1: one,
      sigma2: one,
      stretch: still,
      squeeze: still,
      worstAt: [0, 0, 0],
      conformalEnergy: 0,
      symmetricDirichlet: 4,
      bestRatio: 1,
    },
    strain: { stretch: still, squeeze: still, worstAt: [0, 0, 0] },
    verdict: 'cold',
    forming: 'bent',
    outline,
    holes,
    sides: [],
    notches: [],
    bevels: [],
    templates: [],
    version: 'a',
    drawing,
    mirrored: true,
    findings: [],
    ...shape.fields,
  };
}

const sourced = (value: number): Figure => ({ value, source: 'common practice' });

/** A foam with nothing to correct unless told otherwise. */
export function handMaterial(fields: Partial<Material> = {}): Material {
  return {
    id: 'eva-6',
    name: 'EVA foam 6 mm',
    family: 'foam',
    thicknessMm: sourced(6),
    density: sourced(120),
    neutralFactor: sourced(0.5),
    stretchCold: sourced(0.03),
    stretchHot: sourced(0.1),
    squeezeCold: sourced(0.02),
    squeezeHot: sourced(0.05),
    bendRadiusColdMm: sourced(27),
    bendRadiusHotMm: sourced(12),
    stripMm: sourced(12),
    kerfMm: { hand: sourced(0), knife: sourced(0), laser: sourced(0.6) },
    shrink: sourced(0),
    laser: 'ask',
    laserReason: 'Its edge melts and can flame.',
    notes: [],
    ...fields,
  };
}

/** A plain square with its lower left corner at the origin. */
export const squarePart = (sideMm = 100, fields: Partial<PartShape> = {}): DraftedPart =>
  handPart({
    id: 'square.1.C',
    letter: 'Q',
    name: 'Square',
    outline: straightCurve([
      [0, 0],
      [sideMm, 0],
      [sideMm, sideMm],
      [0, sideMm],
    ]),
    ...fields,
  });

/** A leaf of a breastplate with every layer on it: curves, a hole, ticks, score, bevel, arrow, letters; nothing symmetric about it. */
export function leafPart(id = 'breast.1.L', letter = 'A', name = 'Brünne, øvre Łuk'): DraftedPart {
  const outline: Curve = {
    start: [0, 0],
    closed: true,
    segments: [
      { kind: 'cubic', c1: [60, -18], c2: [130, -10], to: [180, 20] },
      { kind: 'line', to: [165, 110] },
      { kind: 'cubic', c1: [120, 150], c2: [50, 140], to: [10, 120] },
      { kind: 'line', to: [0, 0] },
    ],
  };
  return handPart({
    id,
    letter,
    name,
    outline,
    holes: [roundCurve([120, 60], 14, 9, true)],
    marks: [
      [
        'NOTCH',
        straightCurve(
          [
            [172.5, 65],
            [166.6, 64],
          ],
          false,
        ),
      ],
      [
        'NOTCH',
        straightCurve(
          [
            [5, 60],
            [11, 59.5],
          ],
          false,
        ),
      ],
      ['SCORE', { start: [20, 30], closed: false, segments: [{ kind: 'cubic', c1: [60, 20], c2: [110, 25], to: [160, 40] }] }],
      ['DRAWN', roundCurve([60, 70], 18)],
      [
        'REFERENCE',
        straightCurve(
          [
            [90, 5],
            [90, 125],
          ],
          false,
        ),
      ],
      [
        'BEVEL_OUTER',
        straightCurve(
          [
            [177, 22],
            [162.5, 108],
          ],
          false,
        ),
      ],
      [
        'BEVEL_INNER',
        straightCurve(
          [
            [180, 20],
            [165, 110],
          ],
          false,
        ),
      ],
      [
        'ARROW',
        straightCurve(
          [
            [40, 90],
            [40, 115],
            [37, 110],
          ],
          false,
        ),
      ],
    ],
    labels: [
      { text: `${letter} ${name}`, at: [24, 40], heightMm: 6, angle: 0 },
      { text: 'A1 to B3', at: [156, 50], heightMm: 3, angle: Math.PI / 2 },
    ],
    fields: {
      sides: [
        {
          id: `${letter}1`,
          seam: 'S1',
          kind: 'seam',
          lengthMm: 91.24,
          allowanceMm: 0,
          seamLine: Float64Array.of(180, 20, 165, 110),
        },
      ],
      notches: [{ seam: 'S1', at: [172.5, 65], alongMm: 45.6, code: '2-1', ticks: 2 }],
    },
  });
}

export const handSheet = (placements: readonly PlacedPart[], fields: Partial<Sheet> = {}): Sheet => ({
  id: 'sheet-1',
  stock: 'tile',
  material: 'eva-6',
  widthMm: 600,
  heightMm: 600,
  use: 0.3,
  placements,
  ...fields,
});

export const place = (part: string, xMm: number, yMm: number, angleDeg = 0, mirrored = false): PlacedPart => ({
  part,
  xMm,
  yMm,
  angleDeg,
  mirrored,
});

export const handOptions: ExportOptions = { tool: 'hand', paper: 'a4', printFactor: [1, 1], date: '2026-11-25' };

const tetrahedron = buildMesh(
  Float64Array.of(0, 0, 0, 100, 0, 0, 0, 100, 0, 0, 0, 100),
  Uint32Array.of(0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2),
);

export interface HandJob {
  readonly parts?: readonly DraftedPart[];
  readonly sheets?: readonly Sheet[];
  readonly materials?: readonly Material[];
  readonly seams?: readonly DraftedSeam[];
  readonly tool?: ExportOptions['tool'];
}

/** Export input of a small job: a leaf placed plainly, turned, and mirrored, and a square. */
export function handInput(job: HandJob = {}): ExportInput {
  const parts = job.parts ?? [leafPart(), leafPart('breast.1.R', 'B', 'Brünne, rechts'), squarePart()];
  const materials = job.materials ?? [handMaterial()];
  const sheets = job.sheets ?? [
    handSheet([
      place('breast.1.L', 40, 60, 0),
      place('breast.1.R', 460, 150, 30, true),
      place('breast.1.L', 220, 330, 97.5),
      place('square.1.C', 420, 400, 45),
    ]),
  ];
  const drawn = drawSheets({ sheets, parts, materials, tool: job.tool ?? 'hand', jobName: 'Tide warden, Brünne', date: '2026-11-25' });
  return {
    jobName: 'Tide warden, Brünne',
    sheetDrawings: drawn.drawings,
    parts,
    seams: job.seams ?? [],
    materials,
    bodyMesh: tetrahedron,
    pictures: parts.map((part) => ({
      part: part.id,
      mesh: buildMesh(Float64Array.of(0, 0, 0, 100, 0, 0, 100, 100, 5, 0, 100, 0), Uint32Array.of(0, 1, 2, 0, 2, 3)),
      flat: Float64Array.of(0, 0, 100, 0, 100, 100, 0, 100),
      strain: Float64Array.of(0.01, -0.01),
    })),
    bodyFaceArea: Uint32Array.of(0, 1, 1, 0),
    findings: drawn.findings,
  };
}
