/*
 * `bench -- nest INSTANCE.json… --seconds N`: strip packing of instances of the literature, with the placements so that another judge can check them.
 */
import { readFileSync } from 'node:fs';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { makeForms } from '../../src/nest/forms.ts';
import { packStrip } from '../../src/nest/strip.ts';
import { signedArea } from '../../src/plane/polygon.ts';

export interface Instance {
  readonly name: string;
  readonly strip_height: number;
  readonly items: readonly {
    readonly id: number;
    readonly demand: number;
    readonly allowed_orientations?: readonly number[];
    readonly shape: { readonly data: readonly (readonly [number, number])[] };
  }[];
}

export interface NestRun {
  readonly instance: string;
  readonly seconds: number;
  readonly seed: number;
  readonly stripLength: number;
  readonly density: number;
  readonly placements: readonly {
    readonly item: number;
    readonly x: number;
    readonly y: number;
    readonly angle: number;
    readonly mirrored: boolean;
  }[];
}

/** The search works on a strip of this height, mm, whatever the instance's unit. */
const workHeight = 1000;

export interface NestBenchOptions {
  readonly seconds?: number;
  /** Ends after this many questions in place of seconds: for tests. */
  readonly steps?: number;
  readonly seed?: number;
}

/** @param given a file of the format of the shared instances, or such a value */
export async function benchNest(given: string | Instance, options: NestBenchOptions): Promise<NestRun> {
  const instance = typeof given === 'string' ? (JSON.parse(readFileSync(given, 'utf8')) as Instance) : given;
  const scale = workHeight / instance.strip_height;
  const shapes = instance.items.map((item) => ({ rings: [openRing(item.shape.data, scale)], anglesDeg: item.allowed_orientations ?? [0] }));
  const set = makeForms(shapes);
  const kinds = instance.items.flatMap((item, i) => Array.from({ length: item.demand }, () => i));
  const started = performance.now();
  const seconds = options.seconds ?? 10;
  let asked = 0;
  const spent = (): number => (options.steps === undefined ? (performance.now() - started) / 1000 / seconds : asked++ / options.steps);
  const result = await packStrip(set, Uint32Array.from(kinds), { height: workHeight, seed: options.seed ?? 1, spent }, quietRun);
  const area = kinds.reduce((sum, kind) => sum + Math.abs(signedArea(shapes[kind].rings[0])), 0);
  const { layout } = result;
  return {
    instance: instance.name,
    seconds,
    seed: options.seed ?? 1,
    stripLength: result.length / scale,
    density: area / (result.length * workHeight),
    placements: kinds.map((kind, i) => {
      const form = set.forms[layout.form[i]];
      return {
        item: instance.items[kind].id,
        x: (layout.x[i] + form.originX) / scale,
        y: (layout.y[i] + form.originY) / scale,
        angle: form.angleDeg,
        mirrored: false,
      };
    }),
  };
}

/** Counter-clockwise, first point not repeated. */
function openRing(data: Instance['items'][number]['shape']['data'], scale: number): Float64Array {
  const first = data[0];
  const last = data[data.length - 1];
  const open = first[0] === last[0] && first[1] === last[1] ? data.slice(0, -1) : data;
  const ring = Float64Array.from(open.flatMap(([x, y]) => [x * scale, y * scale]));
  if (signedArea(ring) > 0) return ring;
  const turned = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) turned.set([ring[ring.length - 2 - i], ring[ring.length - 1 - i]], i);
  return turned;
}

/** Forty random stars in four turns: an instance that anyone can make. */
export function randomInstance(): Instance {
  const random = createRandom(7);
  const star = (): [number, number][] =>
    Array.from({ length: 12 }, (_, i) => {
      const radius = 40 + 60 * random();
      const turn = (2 * Math.PI * (i + 0.5 * random())) / 12;
      return [radius * Math.cos(turn), radius * Math.sin(turn)];
    });
  return {
    name: 'random-stars',
    strip_height: 600,
    items: Array.from({ length: 40 }, (_, id) => ({ id, demand: 1, allowed_orientations: [0, 90, 180, 270], shape: { data: star() } })),
  };
}
