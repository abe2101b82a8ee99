/*
 * What line, dart and measure share: points clicked over the skin, the path between them as the worker finds it (with its length while it
 * is drawn), snapping to points that are already there.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import { plus } from '../body-view/axes.ts';
import { segmentsOf } from '../body-view/segments.ts';
import { job } from '../state.ts';
import { latestOnly } from './latest.ts';
import { snapToMiddle } from './mirror.ts';
import type { Pointing, ToolHand, ToolView } from './tool.ts';
import { rounded } from './tool.ts';

/** A click this near to a point means that point, pixels. */
const snapPx = 12;

export interface DrawnPath {
  readonly positions: Float64Array;
  readonly lengthMm: number;
}

export interface PointsOptions {
  readonly colour: () => string;
  /** The path through points; undefined when there are too few. */
  readonly trace: (points: readonly Vec3[], isClosed: boolean) => Promise<DrawnPath | undefined>;
  readonly words: (lengthMm: number) => string;
  /** Ends by itself after so many points. */
  readonly most?: () => number;
  readonly least: () => number;
  readonly canClose: boolean;
  readonly finish: (points: readonly Vec3[], isClosed: boolean) => void;
}

export function pointsHand({ scene, note }: ToolView, options: PointsOptions): ToolHand {
  let points: Vec3[] = [];
  let path: Float64Array | undefined;
  const tracing = latestOnly(
    ({ points: asked, isClosed }: { readonly points: readonly Vec3[]; readonly isClosed: boolean }) => options.trace(asked, isClosed),
    (drawn, { points: asked }) => {
      path = drawn?.positions;
      show(undefined);
      if (drawn) note(options.words(drawn.lengthMm), asked.at(-1));
    },
  );

  function show(next: Vec3 | undefined): void {
    const straight = [...points, ...(next ? [next] : [])];
    const shown = path ?? Float64Array.from(straight.flatMap((p) => [...p]));
    scene.preview.set([{ segments: segmentsOf(lifted(shown)), colour: options.colour(), widthPx: 3, isFollowed: true }]);
    scene.handles.set(points.map((at, i) => ({ at, colour: i === 0 ? '#f0c75e' : '#fffaf2', sizePx: 13 })));
    scene.redraw();
  }

  /** Off the skin by a hair, so that the line is not half buried. */
  function lifted(positions: ArrayLike<number>): number[] {
    const index = scene.index();
    const raised: number[] = [];
    for (let i = 0; i < positions.length; i += 3) {
      const p: Vec3 = [positions[i], positions[i + 1], positions[i + 2]];
      const hit = index?.nearest(p);
      raised.push(...(hit ? plus(hit.at, hit.normal, 0.6) : p));
    }
    return raised;
  }

  function snapped(at: Pointing): { readonly place: Vec3; readonly isFirst: boolean } | undefined {
    if (!at.hit) return undefined;
    const near = (p: Vec3): boolean => {
      const seen = scene.project(p);
      return !seen.isHidden && Math.hypot(seen.x - at.x, seen.y - at.y) < snapPx;
    };
    if (options.canClose && points.length >= 3 && near(points[0])) return { place: points[0], isFirst: true };
    if (at.isAlt) return { place: rounded(at.hit.at), isFirst: false };
    const known = (job.value?.marks.lines ?? []).flatMap((line) => line.points).find(near);
    return { place: known ?? rounded(snapToMiddle(scene.index(), at.hit.at)), isFirst: false };
  }

  function reset(): void {
    points = [];
    path = undefined;
    tracing.forget();
    scene.preview.set([]);
    scene.handles.set([]);
    scene.setRings([]);
    note(undefined);
    scene.redraw();
  }

  function end(isClosed: boolean): void {
    if (points.length < options.least()) {
      note(`This needs ${options.least()} points.`, points.at(-1));
      return;
    }
    const drawn = points;
    reset();
    options.finish(drawn, isClosed);
  }

  return {
    over: (at) => {
      const next = snapped(at);
      scene.setRings(next ? [{ at: next.place, radiusMm: 2.5 }] : []);
      if (points.length === 0 || !next) return;
      tracing.ask({ points: [...points, next.place], isClosed: next.isFirst });
    },
    out: () => scene.setRings([]),
    click: (at) => {
      const next = snapped(at);
      if (!next) {
        note('Click on the body.');
        return;
      }
      if (next.isFirst) return end(true);
      points = [...points, next.place];
      if (points.length === (options.most?.() ?? Infinity)) return end(false);
      show(undefined);
      tracing.ask({ points, isClosed: false });
    },
    finish: () => {
      if (points.length > 0) end(false);
    },
    back: () => {
      points = points.slice(0, -1);
      path = undefined;
      if (points.length === 0) reset();
      else {
        show(undefined);
        tracing.ask({ points, isClosed: false });
      }
    },
    cancel: () => {
      const wasBusy = points.length > 0;
      reset();
      return wasBusy;
    },
  };
}
