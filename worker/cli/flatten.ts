/*
 * `plastron flatten MESH`: each connected piece of a mesh laid flat as it is, nothing mended, nothing welded unless asked.
 */
import { writeFile } from 'node:fs/promises';
import type { F64, U32 } from '../../src/base/arrays.ts';
import type { Account } from '../../src/base/failure.ts';
import { Failure, toAccount } from '../../src/base/failure.ts';
import type { Run } from '../../src/base/run.ts';
import { weldEqual } from '../../src/body/weld.ts';
import { conformalEnergy, faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { distribution } from '../../src/flatten/distribution.ts';
import type { FlattenOptions, MethodName, PlaneMap } from '../../src/flatten/flatten-method.ts';
import { flattenMethods, methodOf } from '../../src/flatten/index.ts';
import { borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { faceComponents } from '../../src/mesh/components.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { boundaryLoops } from '../../src/mesh/navigate.ts';
import type { Submesh } from '../../src/mesh/submesh.ts';
import { submesh } from '../../src/mesh/submesh.ts';
import { readMesh } from '../../src/read/index.ts';
import { unitMm } from '../../src/units/length.ts';
import { loadFile } from './load-job.ts';
import { unitOf, unitOption } from './mesh-words.ts';
import type { CliCommand } from './words.ts';
import { choiceOption, numbersOption, onlyPositional, textOption, WrongWords } from './words.ts';

const methodNames: readonly MethodName[] = flattenMethods.map((method) => method.name);

export const flattenCommand: CliCommand = {
  name: 'flatten',
  positionals: 'MESH',
  summary: 'Lays each piece of an open mesh flat and says how much it had to be stretched.',
  options: {
    method: { type: 'string', value: 'NAME', help: `${methodNames.join(', ')} (default shape)` },
    pins: { type: 'string', value: 'A,B', help: 'two vertices of the file to hold, counted from 0 (conformal)' },
    unit: unitOption,
    weld: { type: 'boolean', help: 'join vertices at the same place first' },
    out: { type: 'string', value: 'FILE.obj', help: 'write the flat pieces, vertices in the order of the file' },
  },
  run: async (words, run) => {
    const method = choiceOption(words, 'method', methodNames) ?? 'shape';
    const pins = numbersOption(words, 'pins');
    if (pins && (pins.length !== 2 || pins[0] === pins[1] || pins.some((v) => !Number.isInteger(v) || v < 0)))
      throw new WrongWords('--pins takes two different vertex numbers, as in 0,25');
    const soup = await readMesh(await loadFile(onlyPositional(words, 'MESH')), run);
    const unit = unitOf(words) ?? (soup.unit === 'unknown' ? undefined : soup.unit);
    const factor = unit === undefined ? 1 : unitMm[unit];
    const scaled = { positions: Float64Array.from(soup.positions, (x) => x * factor), faces: soup.faces };
    const { positions, faces } = words.options.weld === true ? withoutCollapsed(weldEqual(scaled).triangles) : scaled;
    const whole = buildMesh(positions, faces);
    const plane = new Float64Array((2 * positions.length) / 3);
    const pieces = [];
    for (const part of piecesOf(whole)) pieces.push(await flattenPiece(part, method, pins, run, plane));
    const out = textOption(words, 'out');
    if (out !== undefined) await writeFile(out, objText(plane, faces));
    const ok = pieces.every((piece) => piece.failure === undefined);
    return {
      ok,
      json: {
        plastron: 1,
        kind: 'flatten',
        ok,
        unit: unit === undefined ? 'file' : 'mm',
        method,
        pieces: pieces.map(({ failure, ...piece }) => ({ ...piece, failure: failure ?? null })),
        findings: soup.findings,
      },
      text: pieces.map((piece, i) => pieceText(piece, i)),
    };
  },
};

/** Faces that welding left with two corners at one vertex are gone: they have no area to lay flat. */
function withoutCollapsed({ positions, faces }: { readonly positions: F64; readonly faces: U32 }): { positions: F64; faces: U32 } {
  const kept: number[] = [];
  for (let h = 0; h < faces.length; h += 3) {
    const [a, b, c] = [faces[h], faces[h + 1], faces[h + 2]];
    if (a !== b && b !== c && c !== a) kept.push(a, b, c);
  }
  return { positions, faces: Uint32Array.from(kept) };
}

function piecesOf(whole: HalfEdgeMesh): Submesh[] {
  const { labels, count } = faceComponents(whole);
  if (count === 1) return [submesh(whole, () => true)];
  return Array.from({ length: count }, (_, piece) => submesh(whole, (f) => labels[f] === piece));
}

interface PieceAnswer {
  readonly faces: number;
  readonly vertices: number;
  readonly boundaryLoops: number;
  readonly failure?: Account;
  readonly [key: string]: unknown;
}

async function flattenPiece(
  part: Submesh,
  method: MethodName,
  pins: readonly number[] | undefined,
  run: Run,
  plane: Float64Array,
): Promise<PieceAnswer> {
  const { mesh } = part;
  const head = { faces: mesh.faces.length / 3, vertices: mesh.positions.length / 3, boundaryLoops: boundaryLoops(mesh).length };
  try {
    const map = await methodOf(method).flatten(mesh, pieceOptions(part, pins), run);
    part.vertexOf.forEach((v, i) => plane.set([map.positions[2 * i], map.positions[2 * i + 1]], 2 * v));
    return { ...head, ...describe(mesh, map, part.vertexOf) };
  } catch (error) {
    if (!(error instanceof Failure) || error.code === 'run/stopped') throw error;
    return { ...head, failure: toAccount(error) };
  }
}

function pieceOptions(part: Submesh, pins: readonly number[] | undefined): FlattenOptions {
  const clock = (): number => performance.now() / 1000;
  if (!pins) return { clock };
  const [a, b] = pins.map((pin) => part.vertexOf.indexOf(pin));
  if (a === -1 || b === -1)
    throw new Failure(
      'flatten/pin-elsewhere',
      `Vertices ${pins.join(' and ')} are not both in this piece.`,
      { stage: 'flatten' },
      'Name two vertices of the same piece, counted from 0.',
    );
  return { clock, pins: [a, b] };
}

function describe(mesh: HalfEdgeMesh, map: PlaneMap, vertexOf: U32): Record<string, unknown> {
  const distortion = faceDistortion(mesh, map.positions);
  const { sigma1, sigma2, area } = distortion;
  const ratio = Float64Array.from(sigma1, (s, f) => s * sigma2[f]);
  let flat = 0;
  let total = 0;
  for (let f = 0; f < area.length; f++) {
    flat += area[f] * ratio[f];
    total += area[f];
  }
  return {
    pins: map.pins.map((v) => vertexOf[v]),
    seconds: map.seconds,
    iterations: map.iterations,
    converged: map.converged,
    flips: flippedFaces(mesh, map.positions).length,
    overlaps: borderOverlaps(mesh, map.positions).count,
    areaRatio: {
      min: ratio.reduce((least, value) => Math.min(least, value), Infinity),
      mean: flat / total,
      max: ratio.reduce((most, value) => Math.max(most, value), -Infinity),
    },
    sigma1: distribution(sigma1, area),
    sigma2: distribution(sigma2, area),
    conformalEnergy: conformalEnergy(distortion),
    symmetricDirichlet: symmetricDirichlet(distortion),
  };
}

function pieceText(piece: PieceAnswer, i: number): string {
  const head = `piece ${i + 1}: ${piece.faces} faces, ${piece.boundaryLoops} open edges`;
  if (piece.failure) return `${head}: ${piece.failure.what} ${piece.failure.mend} (${piece.failure.code})`;
  const sigma = (value: unknown): string => {
    const { min, median, max } = value as { min: number; median: number; max: number };
    return `${min.toFixed(4)} … ${median.toFixed(4)} … ${max.toFixed(4)}`;
  };
  const { total } = piece.seconds as { total: number };
  return `${head}; larger scale ${sigma(piece.sigma1)}, smaller scale ${sigma(piece.sigma2)}; flips ${String(piece.flips)}, overlaps ${String(piece.overlaps)}; ${(1000 * total).toFixed(0)} ms`;
}

/** Plane positions both as vertices (z = 0) and as plane coordinates of each vertex, so that any reader finds them. */
function objText(plane: F64, faces: U32): string {
  const lines: string[] = [];
  for (let v = 0; v < plane.length; v += 2) lines.push(`v ${plane[v]} ${plane[v + 1]} 0`);
  for (let v = 0; v < plane.length; v += 2) lines.push(`vt ${plane[v]} ${plane[v + 1]}`);
  for (let h = 0; h < faces.length; h += 3) lines.push(`f ${[0, 1, 2].map((i) => `${faces[h + i] + 1}/${faces[h + i] + 1}`).join(' ')}`);
  return `${lines.join('\n')}\n`;
}
