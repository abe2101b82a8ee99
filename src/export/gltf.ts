/*
 * GLB files of the marked body and of the flat parts [gltf2]: metres, y up, the body looking along +z, as the format wants it. Written by hand:
 * one buffer, plain accessors. Flat parts stand side by side in the plane z = 0, coloured by what the foam must stretch (orange) or be squeezed (purple).
 */
import type { F64, U32, Vec3 } from '../base/arrays.ts';
import { directionOf, leftOf } from '../body/axes.ts';
import { vertexNormals } from '../mesh/measure.ts';
import { areaColor, clay, type Rgb } from './area-colors.ts';
import { boxOf } from './box.ts';
import type { Exporter, ExportInput } from './exporter.ts';
import { createGlb } from './glb-writer.ts';

const mediaType = 'model/gltf-binary';
/** Strain at which the colours are full, ratio. */
const fullStrain = 0.1;
const gapMm = 20;
const metre = 1000;

export const glb: Exporter = {
  format: 'glb',
  title: 'GLB of the marked body and of the flat parts',
  write: async (input) => [
    { path: 'body.glb', format: 'glb', mediaType, bytes: writeBody(input) },
    { path: 'parts.glb', format: 'glb', mediaType, bytes: writeParts(input) },
  ],
};

/** The body, a primitive for the bare skin and one for each area. */
function writeBody(input: ExportInput): Uint8Array {
  const { positions, faces } = input.bodyMesh;
  const toFile = fileAxes(input);
  const builder = createGlb();
  const place = builder.vectors(mapPoints(positions, toFile, 1 / metre), true);
  const normal = builder.vectors(mapPoints(vertexNormals(input.bodyMesh), toFile, 1), false);
  const count = input.bodyFaceArea.reduce((most, area) => Math.max(most, area), 0);
  const primitives: string[] = [];
  for (let area = 0; area <= count; area++) {
    const corners = facesOf(faces, input.bodyFaceArea, area);
    if (corners.length === 0) continue;
    const name = area === 0 ? 'body' : (input.areaNames?.[area - 1] ?? `area ${area}`);
    const material = builder.material(name, area === 0 ? clay : areaColor(area - 1), true);
    primitives.push(`{"attributes":{"POSITION":${place},"NORMAL":${normal}},"indices":${builder.indices(corners)},"material":${material}}`);
  }
  builder.node(input.jobName, builder.mesh(input.jobName, primitives));
  return builder.finish();
}

function facesOf(faces: U32, faceArea: U32, area: number): Uint32Array {
  const corners: number[] = [];
  for (let f = 0; f < faces.length / 3; f++) if (faceArea[f] === area) corners.push(faces[3 * f], faces[3 * f + 1], faces[3 * f + 2]);
  return Uint32Array.from(corners);
}

/** Left, up, front of the body as x, y, z. */
function fileAxes({ up = 'y', front = 'z' }: ExportInput): readonly [Vec3, Vec3, Vec3] {
  return [leftOf(up, front), directionOf(up), directionOf(front)];
}

function mapPoints(points: F64, axes: readonly [Vec3, Vec3, Vec3], scale: number): Float32Array {
  const mapped = new Float32Array(points.length);
  for (let k = 0; k < points.length; k += 3)
    for (const [n, axis] of axes.entries())
      mapped[k + n] = (axis[0] * points[k] + axis[1] * points[k + 1] + axis[2] * points[k + 2]) * scale;
  return mapped;
}

/** Each part as its own node: faces with their strain's colour. */
function writeParts(input: ExportInput): Uint8Array {
  const builder = createGlb();
  const material = builder.material('foam', [255, 255, 255], true);
  let x = 0;
  for (const { part, mesh, flat, strain } of input.pictures) {
    const box = boxOf(flat);
    const corners = mesh.faces.length;
    const positions = new Float32Array(3 * corners);
    const colors = new Uint8Array(4 * corners);
    for (let h = 0; h < corners; h++) {
      const v = mesh.faces[h];
      positions.set([(flat[2 * v] - box.minX + x) / metre, (flat[2 * v + 1] - box.minY) / metre, 0], 3 * h);
      colors.set([...strainColor(strain[Math.floor(h / 3)]), 255], 4 * h);
    }
    x += box.maxX - box.minX + gapMm;
    const primitive = `{"attributes":{"POSITION":${builder.vectors(positions, true)},"COLOR_0":${builder.colors(colors)}},"material":${material}}`;
    const drafted = input.parts.find(({ id }) => id === part);
    const name = drafted === undefined ? part : `${drafted.letter} ${drafted.name} (${part})`;
    builder.node(name, builder.mesh(name, [primitive]));
  }
  return builder.finish();
}

/** White for none, orange for stretch, purple for squeeze, full at ten per cent. */
function strainColor(strain: number): Rgb {
  const share = Math.min(1, Math.abs(strain) / fullStrain);
  const full: Rgb = strain > 0 ? [230, 97, 1] : [94, 60, 153];
  const mix = (k: 0 | 1 | 2): number => Math.round(247 + share * (full[k] - 247));
  return [mix(0), mix(1), mix(2)];
}
