/*
 * A working mesh of even edges on the same surface: thinned first where the scan is much finer, then split, collapsed, flipped and slid
 * [botsch-kobbelt2004], every vertex taken back onto the scan. Open borders keep their shape.
 */
import type { Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from '../mesh/build.ts';
import { evenMesh } from '../mesh/even-mesh.ts';
import { surfaceArea } from '../mesh/measure.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import { facesForEdge, simplifyTriangles } from './simplify.ts';
import { surfaceDistance } from './surface-distance.ts';
import type { SurfaceDistance } from './surface-distance.ts';
import type { Triangles } from './triangles.ts';

export interface Remeshed {
  readonly triangles: Triangles;
  /** From the scan to the new mesh and back, the larger of the two for each number. */
  readonly distance: SurfaceDistance;
}

/** Edges of the working mesh where nothing else is asked, mm. */
export const workingEdgeMm = 4;

/** A scan with this many times the wanted faces is thinned before it is remeshed, and to this many times as many. */
const thinFrom = 3;
const thinTo = 1.5;
/** More faces than this are refused: no part of the work would be quick any more. */
const mostFaces = 1_500_000;
const passes = 5;

/**
 * Remeshes to an even edge length.
 * @throws body/too-fine where the edge length asks for more faces than can be worked with
 */
export async function remeshTriangles(triangles: Triangles, edgeMm: number, run: Run): Promise<Remeshed> {
  const wanted = facesForEdge(surfaceArea(triangles), edgeMm);
  if (wanted > mostFaces)
    throw new Failure(
      'body/too-fine',
      `Edges of ${edgeMm} mm on this body would give ${Math.round(wanted)} faces.`,
      { stage: 'body' },
      `Choose edges of at least ${(edgeMm * Math.sqrt(wanted / mostFaces)).toFixed(1)} mm, or check the unit.`,
    );
  const isFine = triangles.faces.length / 3 > thinFrom * wanted;
  const start = isFine ? await simplifyTriangles(triangles, thinTo * wanted, edgeMm / 4, run) : triangles;
  const index = createSpatialIndex(triangles);
  const project = (point: Vec3): Vec3 => index.nearest(point)?.at ?? point;
  const even = await evenMesh(buildMesh(start.positions, start.faces), { edgeMm, passes, project, border: 'fixed' }, run);
  const result = { positions: even.positions, faces: even.faces };
  const there = await surfaceDistance(triangles, result, run);
  const back = await surfaceDistance(result, triangles, run);
  return {
    triangles: result,
    distance: {
      medianMm: Math.max(there.medianMm, back.medianMm),
      p95Mm: Math.max(there.p95Mm, back.p95Mm),
      largestMm: Math.max(there.largestMm, back.largestMm),
    },
  };
}
