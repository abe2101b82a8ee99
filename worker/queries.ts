/*
 * Light questions that the page asks between runs: a line's path, a stroke's reach, a tape measure.
 */
import { Failure } from '../src/base/failure.ts';
import type { Stroke } from '../src/areas/area.ts';
import { spreadDistance } from '../src/lines/distance-windows.ts';
import type { Body } from '../src/body/body.ts';
import { girthPlane, measureGirth } from '../src/body/measure-girth.ts';
import { measureLength } from '../src/body/measure-length.ts';
import { measureMarks } from '../src/body/measures.ts';
import type { MeasureMark } from '../src/body/settings.ts';
import { linePath, shortestThrough } from '../src/lines/line-path.ts';
import type { LineMark } from '../src/lines/line.ts';
import type { HalfEdgeMesh } from '../src/mesh/half-edge-mesh.ts';
import { createSpatialIndex } from '../src/mesh/spatial.ts';
import type { SpatialIndex } from '../src/mesh/spatial.ts';
import type { Ground } from '../src/patches/land-marks.ts';
import { prepareGround } from '../src/patches/land-marks.ts';
import type { Marks } from '../src/patches/marks.ts';
import type { JobResults } from '../src/pipeline.ts';
import type { Answers, LineTrace } from './protocol.ts';

export interface Queries {
  /** The path of a line on the innermost layer. @throws marks/far-from-body */
  readonly trace: (results: JobResults, line: LineMark) => LineTrace;
  /** All lines of the job that can be traced. */
  readonly traceAll: (results: JobResults, marks: Marks) => LineTrace[];
  readonly stroke: (results: JobResults, stroke: Stroke) => Answers['stroke'];
  readonly measure: (results: JobResults, measure: MeasureMark) => Answers['measure'];
}

/** Indices are kept a body: the first question about it builds them. */
export function createQueries(): Queries {
  const grounds = new WeakMap<Body, Ground>();
  const indices = new WeakMap<HalfEdgeMesh, SpatialIndex>();
  const remember = <K extends object, T>(known: WeakMap<K, T>, key: K, make: () => T): T => {
    const found = known.get(key) ?? make();
    known.set(key, found);
    return found;
  };
  const indexOf = (mesh: HalfEdgeMesh): SpatialIndex => remember(indices, mesh, () => createSpatialIndex(mesh));
  const groundOf = (body: Body): Ground => remember(grounds, body, () => prepareGround(body.mesh));

  function trace(results: JobResults, line: LineMark): LineTrace {
    const body = bodyOf(results);
    const surface = results.surfaces?.[0];
    const ground = groundOf(body);
    const landed = line.points.map((at) => {
      const landing = ground.land(at);
      if (!landing)
        throw new Failure(
          'marks/far-from-body',
          `A point of ${line.id} lies too far from the body.`,
          { stage: 'draw', item: line.id, at },
          'Move the point onto the body.',
        );
      return surface ? ground.onSurface(surface, landing) : landing;
    });
    const { mesh } = surface ?? body;
    const path = linePath(mesh, line, landed, indexOf(mesh));
    return { line: line.id, positions: Float64Array.from(path.positions), lengthMm: path.length };
  }

  return {
    trace,
    traceAll: (results, marks) =>
      marks.lines.flatMap((line) => {
        try {
          return [trace(results, line)];
        } catch (error) {
          // The walk names it as a finding; here it is only not shown.
          if (error instanceof Failure) return [];
          throw error;
        }
      }),
    stroke: (results, { points, radiusMm }) => {
      const body = bodyOf(results);
      const ground = groundOf(body);
      const landed = points.flatMap((at) => ground.land(at) ?? []);
      if (landed.length === 0) return { faces: new Uint32Array(0) };
      const field = spreadDistance(body.mesh, [shortestThrough(body.mesh, landed, false)], radiusMm);
      const faces: number[] = [];
      for (let face = 0; face < body.mesh.faces.length / 3; face++) {
        if (field.reaches(face) && field.at({ face, weights: [1 / 3, 1 / 3, 1 / 3] }) <= radiusMm) faces.push(face);
      }
      return { faces: Uint32Array.from(faces) };
    },
    measure: (results, measure) => {
      const body = bodyOf(results);
      const { results: measured, findings } = measureMarks(body.mesh, [measure], body.up);
      const [result] = measured;
      if (result === undefined) {
        const [why] = findings;
        throw new Failure(why.code, why.what, why.where, why.mend);
      }
      return {
        meshMm: result.meshMm,
        positions: measuredLine(body, measure, indexOf(body.mesh)),
      };
    },
  };
}

/** The line that a tape would take, for display. */
function measuredLine(body: Body, measure: MeasureMark, index: SpatialIndex): Float64Array {
  if (measure.kind === 'girth')
    return Float64Array.from(measureGirth(body.mesh, girthPlane(measure.points[0], body.up), measure.name).line);
  if (measure.kind === 'length') return Float64Array.from(measureLength(body.mesh, index, measure.points, measure.name).line);
  return Float64Array.from(measure.points.flat());
}

function bodyOf(results: JobResults): Body {
  if (results.body) return results.body;
  const { failed } = results;
  const why = failed?.account;
  throw new Failure(
    why?.code ?? 'worker/no-body',
    why?.what ?? 'There is no body yet.',
    why?.where ?? {},
    why?.mend ?? 'Open a scan first.',
  );
}
