/*
 * The surfaces on which the layers' neutral planes lie. Distance of a layer: clearance + padding + the layers below + neutral factor × its
 * own thickness. The body's own mesh is pushed outward where that is the true offset surface (`push.ts`).
 */
import { Failure, finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { pushSlackMm } from '../base/tolerance.ts';
import type { Body } from '../body/body.ts';
import type { Material } from '../materials/material.ts';
import { buildMesh } from '../mesh/build.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { Correspondence } from '../mesh/surface-point.ts';
import { checkPush, offsetDirections, pushedPositions } from './push.ts';
import type { StandoffSettings } from './settings.ts';
import type { Surface } from './surface.ts';

/**
 * One surface a layer, inner to outer.
 * @param materials must hold every id of `settings.layers`
 * @throws standoff/no-layers, standoff/unknown-material
 */
export async function makeStandoff(body: Body, settings: StandoffSettings, materials: readonly Material[], run: Run): Promise<Surface[]> {
  const distances = layerDistances(settings, materials);
  const directions = offsetDirections(body.mesh);
  const toBody = sameVertices(body.mesh);
  const surfaces: Surface[] = [];
  for (const [layer, distanceMm] of distances.entries()) {
    run.report('clearance', layer / distances.length);
    await run.breathe();
    const distance = new Float64Array(body.mesh.positions.length / 3).fill(distanceMm);
    const pushed = pushedPositions(body.mesh, directions, distance);
    const check = checkPush(body.mesh, pushed, distance, pushSlackMm);
    const findings: Finding[] = check.isSound
      ? []
      : [
          finding(
            'warning',
            'standoff/crowded',
            `At ${distanceMm.toFixed(1)} mm the surface of layer ${layer + 1} crowds itself in a hollow (by ${check.tooNearMm.toFixed(1)} mm).`,
            { stage: 'clearance', faces: check.faces },
            'Keep parts out of the hollow, or bridge it.',
          ),
        ];
    surfaces.push({ layer, material: settings.layers[layer], mesh: buildMesh(pushed, body.mesh.faces), toBody, distanceMm, findings });
  }
  return surfaces;
}

/**
 * Distance of each layer's neutral plane from the skin, mm.
 * @throws standoff/no-layers, standoff/unknown-material
 */
export function layerDistances(settings: StandoffSettings, materials: readonly Material[]): number[] {
  if (settings.layers.length === 0)
    throw new Failure('standoff/no-layers', 'The job has no layer of material.', { stage: 'clearance' }, 'Add at least one layer.');
  let below = settings.clearanceMm + settings.paddingMm;
  return settings.layers.map((id) => {
    const material = materials.find((known) => known.id === id);
    if (material === undefined)
      throw new Failure(
        'standoff/unknown-material',
        `Layer "${id}" is not a known material.`,
        { stage: 'clearance', item: id },
        `Use one of ${materials.map((known) => known.id).join(', ')}.`,
      );
    const distance = below + material.neutralFactor.value * material.thicknessMm.value;
    below += material.thicknessMm.value;
    return distance;
  });
}

/** Each vertex at the corner of its own first face. */
function sameVertices(mesh: HalfEdgeMesh): Correspondence {
  const total = mesh.positions.length / 3;
  const face = new Uint32Array(total);
  const weights = new Float64Array(3 * total);
  for (let v = 0; v < total; v++) {
    const h = mesh.vertexHalfEdge[v];
    if (h === -1) continue;
    face[v] = Math.floor(h / 3);
    weights[3 * v + (h % 3)] = 1;
  }
  return { face, weights };
}
