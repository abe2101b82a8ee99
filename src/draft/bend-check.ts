/*
 * Is a part bent tighter than its sheet takes? Curvature comes from the turning of smoothed normals, the tight side is the face on the inside of the bend,
 * and only a connected region that a hand can feel counts.
 */
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceAreas } from '../mesh/measure.ts';
import type { PreparedPart } from './prepare.ts';
import { smoothNormals } from './straight-field.ts';

/** Smallest region that counts, mm² (the verdict's 4 cm²). */
const leastRegionMm2 = 400;

/**
 * Signed principal curvatures of each face, 1/mm, positive where the surface bulges outward; the larger in size first. Shape 2·m.
 * From II(u, v) = dn·dx on the face, n the smoothed normals: the sphere of radius R, outward, gives 1/R twice.
 */
export function principalCurvatures(mesh: HalfEdgeMesh, radiusMm: number): Float64Array {
  const { positions, faces } = mesh;
  const normals = smoothNormals(mesh, faceAreas(mesh), radiusMm);
  const curvatures = new Float64Array((2 * faces.length) / 3);
  for (let f = 0; f < faces.length / 3; f++) {
    const [a, b, c] = [3 * faces[3 * f], 3 * faces[3 * f + 1], 3 * faces[3 * f + 2]];
    let [e, g, h, l, m1, m2, n] = [0, 0, 0, 0, 0, 0, 0];
    for (let k = 0; k < 3; k++) {
      const [u, v] = [positions[b + k] - positions[a + k], positions[c + k] - positions[a + k]];
      const [p, q] = [normals[b + k] - normals[a + k], normals[c + k] - normals[a + k]];
      e += u * u;
      g += u * v;
      h += v * v;
      l += p * u;
      m1 += p * v;
      m2 += q * u;
      n += q * v;
    }
    const determinant = e * h - g * g;
    if (!(determinant > 0)) continue;
    const m = (m1 + m2) / 2;
    // Mean and Gauss curvature from the two fundamental forms (E G H; L M N).
    const mean = (e * n - 2 * g * m + h * l) / (2 * determinant);
    const gauss = (l * n - m * m) / determinant;
    const root = Math.sqrt(Math.max(0, mean * mean - gauss));
    const [first, second] = [mean + root, mean - root];
    curvatures.set(Math.abs(first) >= Math.abs(second) ? [first, second] : [second, first], 2 * f);
  }
  return curvatures;
}

/** Radius of the face on the inside of a bend, mm: 1/|κ| less what lies between it and the neutral plane. */
export function tightRadius(curvature: number, thicknessMm: number, neutralFactor: number): number {
  const share = curvature > 0 ? neutralFactor : 1 - neutralFactor;
  return 1 / Math.abs(curvature) - share * thicknessMm;
}

/** "Heat or groove" where a part is bent tighter than its sheet takes; nothing where it is not. */
export function checkBends(part: Pick<PreparedPart, 'patch' | 'material' | 'rule'>): Finding[] {
  const { mesh } = part.patch;
  const { thicknessMm, neutralFactor } = part.rule;
  const curvatures = principalCurvatures(mesh, 2 * thicknessMm);
  const radii = new Float64Array(mesh.faces.length / 3);
  for (let f = 0; f < radii.length; f++)
    radii[f] = curvatures[2 * f] === 0 ? Infinity : tightRadius(curvatures[2 * f], thicknessMm, neutralFactor);
  const { bendRadiusColdMm, bendRadiusHotMm, name } = part.material;
  const hot = largestRegion(mesh, (f) => radii[f] < bendRadiusHotMm.value);
  const cold = largestRegion(mesh, (f) => radii[f] < bendRadiusColdMm.value);
  const region = hot.areaMm2 > leastRegionMm2 ? hot : cold;
  if (region.areaMm2 <= leastRegionMm2) return [];
  const tightest = [...region.faces].map((f) => radii[f]).sort((a, b) => a - b)[Math.floor(region.faces.length / 10)];
  const tooTightHot = region === hot;
  const limit = tooTightHot ? bendRadiusHotMm : bendRadiusColdMm;
  return [
    finding(
      'warning',
      'draft/bent-too-tight',
      `Part ${part.patch.id} bends to a radius of ${Math.max(0, tightest).toFixed(0)} mm; ${name} takes ${limit.value.toFixed(0)} mm ${tooTightHot ? 'even when heated' : 'cold'} (${limit.source}).`,
      { stage: 'draft', item: part.patch.id, faces: region.faces.slice(0, 20) },
      tooTightHot ? 'Groove the inside along the bend, or use a thinner sheet.' : 'Heat or groove it there.',
    ),
  ];
}

function largestRegion(mesh: HalfEdgeMesh, belongs: (f: number) => boolean): { readonly faces: number[]; readonly areaMm2: number } {
  const areas = faceAreas(mesh);
  const seen = new Uint8Array(areas.length);
  let best: { faces: number[]; areaMm2: number } = { faces: [], areaMm2: 0 };
  for (let seed = 0; seed < areas.length; seed++) {
    if (seen[seed] === 1 || !belongs(seed)) continue;
    const faces = [seed];
    seen[seed] = 1;
    let areaMm2 = 0;
    for (const f of faces) {
      areaMm2 += areas[f];
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const g = Math.floor(mesh.twin[h] / 3);
        if (g < 0 || seen[g] === 1 || !belongs(g)) continue;
        seen[g] = 1;
        faces.push(g);
      }
    }
    if (areaMm2 > best.areaMm2) best = { faces, areaMm2 };
  }
  return best;
}
