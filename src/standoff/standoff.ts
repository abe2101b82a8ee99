/*
 * The surfaces on which the layers' neutral planes lie: the body's own mesh pushed outward where that is the true offset surface, so that marks stay exact;
 * else the level of the distance field. Areas may keep their own clearance, girths may get ease, hollows may be bridged.
 */
import type { F64 } from '../base/arrays.ts';
import { finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import type { Body } from '../body/body.ts';
import type { Material } from '../materials/material.ts';
import { buildMesh } from '../mesh/build.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { Correspondence } from '../mesh/surface-point.ts';
import type { StandoffOptions } from './extra-distance.ts';
import { extraDistance } from './extra-distance.ts';
import { layerDistances } from './layers.ts';
import type { Bridge, LevelSource, LevelSurface } from './level-surface.ts';
import { bridgedSurface, levelSurface, prepareBridge, prepareLevels } from './level-surface.ts';
import { checkPush, offsetDirections, pushedPositions } from './push.ts';
import { selfHits } from './self-hits.ts';
import type { StandoffSettings } from './settings.ts';
import type { Surface } from './surface.ts';

/**
 * One surface a layer, inner to outer.
 * @param materials must hold every id of `settings.layers`
 * @throws standoff/no-layers, standoff/unknown-material
 * Cost: a push is linear; a level costs seconds (see `level-surface.ts`).
 */
export async function makeStandoff(
  body: Body,
  settings: StandoffSettings,
  materials: readonly Material[],
  run: Run,
  options: StandoffOptions = {},
): Promise<Surface[]> {
  const distances = layerDistances(settings, materials);
  const { extra, findings } = extraDistance(body, settings, distances[0], options);
  const source = prepareLevels(body.mesh);
  const surfaces: Surface[] = [];
  const isBridging = settings.bridgeHollowsMm > 0 && !source.isOpen;
  let bridge: Bridge | undefined;
  for (const [layer, distanceMm] of distances.entries()) {
    run.report('clearance', layer / distances.length);
    await run.breathe();
    const distance = Float64Array.from(extra, (mm) => mm + distanceMm);
    const base = { layer, material: settings.layers[layer], distanceMm };
    if (isBridging) {
      bridge ??= await prepareBridge(source, distance, settings.bridgeHollowsMm, run);
      const made = await bridgedSurface(source, bridge, distance, distanceMm - distances[0], run);
      surfaces.push({ ...base, mesh: made.mesh, toBody: made.toBody, findings: levelFindings(made, layer) });
      continue;
    }
    const pushed = tryPush(source, distance);
    if (pushed !== undefined) {
      surfaces.push({ ...base, mesh: pushed, toBody: sameVertices(body.mesh), findings: [] });
      continue;
    }
    const made = await levelSurface(source, distance, run);
    surfaces.push({ ...base, mesh: made.mesh, toBody: made.toBody, findings: levelFindings(made, layer) });
  }
  const notes = settings.bridgeHollowsMm > 0 && source.isOpen ? [openBridge()] : [];
  return surfaces.map((surface, i) => (i === 0 ? { ...surface, findings: [...findings, ...notes, ...surface.findings] } : surface));
}

/** The pushed mesh where it is the true offset surface. */
function tryPush(source: LevelSource, distance: F64): HalfEdgeMesh | undefined {
  const { mesh } = source;
  const pushed = pushedPositions(mesh, offsetDirections(mesh), distance);
  return checkPush(mesh, source.nearest, pushed, distance).isSound ? buildMesh(pushed, mesh.faces) : undefined;
}

function levelFindings(made: LevelSurface, layer: number): Finding[] {
  const findings: Finding[] = [];
  const where = { stage: 'clearance', item: `layer ${layer + 1}` };
  if (made.bridged.deepestMm > 1)
    findings.push(
      finding(
        'note',
        'standoff/bridged',
        `Layer ${layer + 1} bridges hollows: ${(made.bridged.areaMm2 / 100).toFixed(0)} cm² stand off further than asked, by up to ${made.bridged.deepestMm.toFixed(0)} mm.`,
        where,
        'Marks inside a bridged hollow land on its rims; draw there on the bridged surface. Set the bridge to 0 to follow the hollow.',
      ),
    );
  if (made.pockets > 0)
    findings.push(
      finding(
        'note',
        'standoff/pockets',
        `Layer ${layer + 1} closes off ${made.pockets} gap${made.pockets === 1 ? '' : 's'} that no sheet can reach.`,
        where,
        'Nothing to do, unless a part should go in there.',
      ),
    );
  const hits = selfHits(made.mesh, 20);
  if (hits.length > 0)
    findings.push(
      finding(
        'severe',
        'standoff/crosses-itself',
        `The surface of layer ${layer + 1} cuts itself at ${hits.length} or more faces.`,
        { ...where, faces: hits },
        'Bridge the hollow there, or mend the body.',
      ),
    );
  return findings;
}

const openBridge = (): Finding =>
  finding(
    'warning',
    'standoff/open-body',
    'Hollows are bridged only on a closed body, and this one has open edges.',
    { stage: 'clearance' },
    'Close the holes at the Body station.',
  );

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
