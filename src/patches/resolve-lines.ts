/*
 * Lines and strokes of a job on one layer's surface: landed, mirrored, joined where their ends nearly meet, and traced.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import { lineSnapMm, markReachMm, onMirrorMm } from '../base/tolerance.ts';
import type { AreaMark } from '../areas/area.ts';
import type { SurfaceStroke } from '../areas/paint-field.ts';
import type { Plane } from '../body/body.ts';
import type { LineMark } from '../lines/line.ts';
import { shortestThrough } from '../lines/line-path.ts';
import { mirrored, ontoPlane, sideOf } from '../lines/mirror.ts';
import type { SurfacePoint } from '../mesh/surface-point.ts';
import type { Surface } from '../standoff/surface.ts';
import type { Ground } from './land-marks.ts';
import type { Marks } from './marks.ts';

/** A line with its points on the body; mirrored copies end in `:mirror`. */
export interface LandedLine {
  readonly id: string;
  readonly mark: LineMark;
  readonly isMirrored: boolean;
  readonly points: readonly SurfacePoint[];
}

export interface LandedStroke {
  readonly mode: 'paint' | 'erase' | 'fill';
  readonly radiusMm: number;
  readonly points: readonly SurfacePoint[];
}

export interface LandedArea {
  readonly mark: AreaMark;
  readonly strokes: readonly LandedStroke[];
}

export interface LandedMarks {
  readonly lines: readonly LandedLine[];
  readonly areas: readonly LandedArea[];
  readonly findings: readonly Finding[];
}

/** Lands all lines and strokes on the body, both halves. */
export function landMarks(ground: Ground, plane: Plane, marks: Marks): LandedMarks {
  const findings: Finding[] = [];
  const landAll = (item: string, points: readonly Vec3[]): SurfacePoint[] => {
    const landed = points.flatMap((at) => ground.land(at) ?? []);
    const lost = points.length - landed.length;
    if (lost > 0) findings.push(farFromBody(item, lost, points.length));
    return landed.map(({ face, weights }) => ({ face, weights }));
  };
  const lines = marks.lines.flatMap((mark) => {
    const onPlane = marks.mirrored && mark.mirror && mark.points.every((at) => Math.abs(sideOf(plane, at)) <= onMirrorMm);
    const hasTwin = marks.mirrored && mark.mirror && !onPlane;
    const points = mark.points.map((at, i) => {
      const isEnd = !mark.closed && (i === 0 || i === mark.points.length - 1);
      return onPlane || (hasTwin && isEnd && Math.abs(sideOf(plane, at)) <= lineSnapMm) ? ontoPlane(plane, at) : at;
    });
    const own: LandedLine = { id: mark.id, mark, isMirrored: false, points: landAll(mark.id, points) };
    if (!hasTwin) return [own];
    // A point of the plane is its own image, exactly.
    const images = points.map((at, i) => (at === mark.points[i] ? mirrored(plane, at) : at));
    return [own, { id: `${mark.id}:mirror`, mark, isMirrored: true, points: landAll(`${mark.id}:mirror`, images) }];
  });
  const areas = marks.areas.map((mark) => {
    const strokes = mark.strokes.flatMap((stroke) => {
      const { mode, radiusMm } = stroke;
      const own = { mode, radiusMm, points: landAll(mark.id, stroke.points) };
      if (!marks.mirrored) return [own];
      return [
        own,
        {
          mode,
          radiusMm,
          points: landAll(
            `${mark.id}:mirror`,
            stroke.points.map((at) => mirrored(plane, at)),
          ),
        },
      ];
    });
    return { mark, strokes: strokes.filter((stroke) => stroke.points.length > 0) };
  });
  return { lines, areas, findings };
}

function farFromBody(item: string, lost: number, count: number): Finding {
  return finding(
    lost === count ? 'severe' : 'warning',
    'marks/far-from-body',
    `${lost} of ${count} points of "${item}" lie further than ${markReachMm} mm from the body and were left out.`,
    { stage: 'draw', item },
    'Check the unit and scale of the body, or draw the mark again.',
  );
}

/** Painting and erasing strokes of an area on a surface. */
export function traceStrokes(ground: Ground, surface: Surface, area: LandedArea): SurfaceStroke[] {
  return area.strokes.flatMap(({ mode, radiusMm, points }) => {
    if (mode === 'fill') return [];
    const path = shortestThrough(
      surface.mesh,
      points.map((point) => ground.onSurface(surface, point)),
      false,
    );
    return [{ mode, radiusMm, path }];
  });
}
