/*
 * The check at the border: unknown JSON becomes a Job, with defaults for everything but `body.file`. A field that Plastron does not
 * know is named in a finding and left out; a field of the wrong shape is a Failure that says which.
 */
import * as v from 'valibot';
import type { Finding } from '../base/failure.ts';
import { Failure, finding } from '../base/failure.ts';
import type { Job } from './job.ts';

const finite = v.pipe(v.number(), v.finite());
const notNegative = v.pipe(finite, v.minValue(0));
const positive = v.pipe(finite, v.gtValue(0));
const whole = v.pipe(v.number(), v.integer(), v.minValue(0));
const text = v.pipe(v.string(), v.maxLength(500));
const word = v.pipe(v.string(), v.minLength(1), v.maxLength(200));
const vec3 = v.tuple([finite, finite, finite]);
const points = v.pipe(v.array(vec3), v.maxLength(100_000));
const axis = v.picklist(['x', 'y', 'z', '-x', '-y', '-z']);

const plane = v.strictObject({ point: vec3, normal: vec3 });

const body = v.strictObject({
  file: word,
  sha256: v.exactOptional(v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/))),
  unit: v.exactOptional(v.picklist(['mm', 'cm', 'm', 'in'])),
  scale: v.optional(positive, 1),
  up: v.optional(axis, 'y'),
  front: v.optional(axis, 'z'),
  wornMm: v.optional(notNegative, 0),
  mend: v.optional(
    v.array(v.strictObject({ step: word, accept: v.boolean(), maxMm: v.exactOptional(notNegative), plane: v.exactOptional(plane) })),
    [],
  ),
  measures: v.optional(
    v.array(v.strictObject({ name: word, kind: v.picklist(['girth', 'length', 'distance', 'height']), points, tapeMm: notNegative })),
    [],
  ),
  mirror: v.exactOptional(
    v.strictObject({ point: vec3, normal: vec3, shape: v.optional(v.picklist(['as-is', 'larger', 'average']), 'as-is') }),
  ),
});

const standoff = v.strictObject({
  clearanceMm: v.optional(notNegative, 5),
  paddingMm: v.optional(notNegative, 0),
  bridgeHollowsMm: v.optional(notNegative, 0),
  ease: v.optional(v.array(v.strictObject({ measure: word, mm: finite })), []),
  layers: v.optional(v.pipe(v.array(word), v.minLength(1)), ['eva-6']),
});

const stroke = v.strictObject({
  mode: v.picklist(['paint', 'erase', 'fill']),
  points: v.pipe(points, v.minLength(1)),
  radiusMm: v.optional(positive, 30),
});

const area = v.strictObject({
  id: word,
  name: v.optional(text, ''),
  layer: v.optional(whole, 0),
  growMm: v.optional(finite, 0),
  clearanceMm: v.exactOptional(notNegative),
  forming: v.optional(v.picklist(['bent', 'domed']), 'domed'),
  strokes: v.optional(v.array(stroke), []),
});

const line = v.strictObject({
  id: word,
  kind: v.optional(v.picklist(['seam', 'dart', 'opening', 'drawn', 'reference']), 'seam'),
  path: v.optional(v.picklist(['shortest', 'plane', 'smooth']), 'shortest'),
  closed: v.optional(v.boolean(), false),
  mirror: v.optional(v.boolean(), true),
  points: v.pipe(points, v.minLength(2)),
  crease: v.exactOptional(v.strictObject({ depthMm: positive, angleDeg: positive })),
});

const marks = v.strictObject({
  mirrored: v.optional(v.boolean(), true),
  areas: v.optional(v.array(area), []),
  lines: v.optional(v.array(line), []),
  points: v.optional(v.array(v.strictObject({ id: word, kind: v.picklist(['strap', 'snap', 'magnet', 'buckle']), at: vec3 })), []),
  names: v.optional(v.array(v.strictObject({ at: vec3, name: text })), []),
});

const draft = v.strictObject({
  tracedFace: v.optional(v.picklist(['inner', 'outer']), 'inner'),
  notch: v.optional(v.picklist(['tick', 'slit', 'v']), 'tick'),
  bevel: v.optional(v.boolean(), true),
  sides: v.optional(
    v.array(
      v.strictObject({
        area: word,
        line: word,
        allowanceMm: v.optional(notNegative, 0),
        takeInMm: v.optional(finite, 0),
        join: v.exactOptional(v.picklist(['lap', 'tab'])),
        easeMm: v.exactOptional(notNegative),
      }),
    ),
    [],
  ),
});

const stock = v.strictObject({
  name: word,
  material: word,
  widthMm: positive,
  heightMm: positive,
  count: v.optional(whole, 99),
  marginMm: v.optional(notNegative, 8),
  turns: v.optional(v.picklist(['any', '180', '90', 'none']), 'any'),
  price: v.exactOptional(notNegative),
});

const figure = v.strictObject({ value: finite, source: text });

const material = v.strictObject({
  id: word,
  name: text,
  family: v.picklist(['foam', 'leather', 'thermoplastic', 'card']),
  thicknessMm: figure,
  realThicknessMm: v.exactOptional(figure),
  density: figure,
  neutralFactor: figure,
  stretchCold: figure,
  stretchHot: figure,
  squeezeCold: figure,
  squeezeHot: figure,
  bendRadiusColdMm: figure,
  bendRadiusHotMm: figure,
  stripMm: figure,
  kerfMm: v.strictObject({ hand: figure, knife: figure, laser: figure }),
  shrink: figure,
  laser: v.picklist(['refused', 'ask', 'allowed']),
  laserReason: text,
  sheets: v.exactOptional(v.array(v.strictObject({ name: text, widthMm: positive, heightMm: positive, source: text }))),
  notes: v.array(text),
});

const output = v.strictObject({
  tool: v.optional(v.picklist(['hand', 'knife', 'laser']), 'hand'),
  formats: v.optional(
    v.array(v.picklist(['svg', 'dxf-r12', 'dxf-2000', 'dxf-sewn', 'pdf', 'pdf-tiles', 'hpgl', 'glb', 'build-sheet', 'zip'])),
    ['svg', 'dxf-r12', 'pdf-tiles', 'build-sheet'],
  ),
  paper: v.optional(v.picklist(['a4', 'a3', 'letter', 'legal', 'a1', 'a0', 'roll-610', 'roll-914']), 'a4'),
  printFactor: v.optional(v.tuple([positive, positive]), [1, 1]),
});

const job = v.strictObject({
  plastron: v.literal(1),
  name: v.optional(text, 'Untitled'),
  date: v.optional(v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/)), '2026-01-01'),
  body,
  standoff: v.optional(standoff, {}),
  marks: v.optional(marks, {}),
  flats: v.optional(v.strictObject({ method: v.optional(v.picklist(['conformal', 'spectral', 'shape', 'least-worst']), 'shape') }), {}),
  draft: v.optional(draft, {}),
  sheets: v.optional(
    v.strictObject({
      spacingMm: v.exactOptional(notNegative),
      bed: v.exactOptional(v.strictObject({ widthMm: positive, heightMm: positive })),
      stock: v.optional(v.array(stock), []),
    }),
    {},
  ),
  output: v.optional(output, {}),
  materials: v.optional(v.array(material), []),
});

export interface CheckedJob {
  readonly job: Job;
  readonly findings: readonly Finding[];
}

/**
 * A Job from parsed JSON.
 * @throws job/wrong-shape naming the field, what stood there and what belongs there; job/newer if the file's version is not 1;
 * job/repeated-id
 */
export function checkJob(value: unknown): CheckedJob {
  if (typeof value === 'object' && value && 'plastron' in value && value.plastron !== 1) {
    throw new Failure(
      'job/newer',
      `This job has version ${JSON.stringify(value.plastron)}; this Plastron reads version 1.`,
      { item: 'plastron' },
      'Open it with the Plastron that wrote it, or update.',
    );
  }
  const findings: Finding[] = [];
  const copy = structuredClone(value);
  let result = v.safeParse(job, copy);
  const unknown = (result.issues ?? []).filter((issue) => issue.type === 'strict_object' && issue.expected === 'never');
  if (!result.success && unknown.length > 0) {
    for (const issue of unknown) {
      removeKey(
        copy,
        (issue.path ?? []).map((step) => step.key as string | number),
      );
      const field = v.getDotPath(issue) ?? '?';
      findings.push(
        finding(
          'warning',
          'job/unknown-field',
          `The job has a field "${field}" that this Plastron does not know; it was left out.`,
          { item: field },
          'Check its spelling, or update Plastron.',
        ),
      );
    }
    result = v.safeParse(job, copy);
  }
  if (!result.success) {
    const issue = result.issues[0];
    const field = v.getDotPath(issue) ?? 'the whole file';
    throw new Failure(
      'job/wrong-shape',
      `"${field}" in the job is ${issue.received}; ${issue.expected ?? 'another value'} belongs there.`,
      { item: field },
      'Mend that field, or open an earlier version of the job.',
    );
  }
  const checked: Job = result.output;
  checkIds(checked);
  return { job: checked, findings };
}

/** The job as text: fields in the schema's order, so that equal jobs are equal bytes whoever made them. */
export function jobText(job: Job): string {
  return `${JSON.stringify(checkJob(job).job, undefined, 1)}\n`;
}

/** A new job on a body file. */
export function newJob(name: string, file: string, date: string): Job {
  return checkJob({ plastron: 1, name, date, body: { file } }).job;
}

function removeKey(value: unknown, path: readonly (string | number)[]): void {
  let at = value as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) at = at[step] as Record<string | number, unknown>;
  const last = path.at(-1);
  if (last !== undefined) Reflect.deleteProperty(at, last);
}

function checkIds(checked: Job): void {
  for (const [list, items] of [
    ['marks.areas', checked.marks.areas],
    ['marks.lines', checked.marks.lines],
    ['marks.points', checked.marks.points],
  ] as const) {
    const seen = new Set<string>();
    for (const { id } of items) {
      if (seen.has(id))
        throw new Failure(
          'job/repeated-id',
          `Two entries of ${list} have the id "${id}".`,
          { item: `${list}: ${id}` },
          'Give one of them another id.',
        );
      seen.add(id);
    }
  }
}
