/*
 * Reading and mending beside general-purpose readers and a simplifier, in one run.
 */
import { readFileSync } from 'node:fs';
import { MeshoptSimplifier } from 'meshoptimizer/simplifier';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { PLYLoader } from 'three/examples/jsm/loaders/PLYLoader.js';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { quietRun } from '../../src/base/run.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { simplifyTriangles } from '../../src/body/simplify.ts';
import { readMesh } from '../../src/read/index.ts';
import { sphere } from '../support/shapes.ts';
import { binaryStl } from '../support/files.ts';

const seconds = async (work: () => unknown): Promise<number> => {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1000;
};
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

async function medianOf(repeat: number, work: () => unknown): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i < repeat; i++) times.push(await seconds(work));
  return median(times);
}

/** Rows of the contract's `bench read`; without files a generated binary STL of 327,680 faces. */
export async function benchRead(options: { readonly files?: readonly string[]; readonly repeat?: number }): Promise<
  {
    file: string;
    faces: number;
    method: string;
    repeat: number;
    medianSeconds: Record<string, number>;
    peakMb: number;
    quality: Record<string, unknown>;
    judges: { name: string; seconds: number; ratio: number }[];
  }[]
> {
  const repeat = Math.min(options.repeat ?? 3, 5);
  const sources =
    options.files !== undefined && options.files.length > 0
      ? options.files.map((file) => ({ file, bytes: new Uint8Array(readFileSync(file)) }))
      : [generated()];
  const rows = [];
  for (const { file, bytes } of sources) {
    const soup = await readMesh({ name: file, bytes }, quietRun);
    const read = await medianOf(repeat, () => readMesh({ name: file, bytes }, quietRun));
    const mend = await medianOf(repeat, () => makeBody(soup, { up: 'y', front: 'z' }, quietRun));
    const body = await makeBody(soup, { up: 'y', front: 'z' }, quietRun);
    const target = Math.min(50_000, body.mesh.faces.length / 6);
    const thin = await medianOf(repeat, () => simplifyTriangles(body.mesh, target, 5, quietRun));
    const judges: { name: string; seconds: number; ratio: number }[] = [];
    const judge = async (name: string, own: number, work: () => unknown): Promise<void> => {
      const time = await medianOf(repeat, work);
      judges.push({ name, seconds: time, ratio: own / time });
    };
    const buffer = Uint8Array.from(bytes).buffer;
    if (soup.format === 'obj') await judge('three OBJLoader (read)', read, () => new OBJLoader().parse(new TextDecoder().decode(bytes)));
    if (soup.format === 'ply') await judge('three PLYLoader (read)', read, () => new PLYLoader().parse(buffer));
    if (soup.format === 'stl') await judge('three STLLoader (read)', read, () => new STLLoader().parse(buffer));
    await MeshoptSimplifier.ready;
    const [positions, faces] = [Float32Array.from(body.mesh.positions), Uint32Array.from(body.mesh.faces)];
    await judge('meshoptimizer (simplify alone)', thin, () =>
      MeshoptSimplifier.simplify(faces, positions, 3, 3 * Math.floor(target), 5, ['ErrorAbsolute']),
    );
    rows.push({
      file,
      faces: soup.faces.length / 3,
      method: 'read+mend',
      repeat,
      medianSeconds: { total: read + mend, read, mend, simplify: thin },
      peakMb: process.memoryUsage().rss / 1_048_576,
      quality: { faces: body.mesh.faces.length / 3, vertices: body.mesh.positions.length / 3, repairs: body.repairs.length },
      judges,
    });
  }
  return rows;
}

function generated(): { file: string; bytes: Uint8Array } {
  const ball = sphere(800, 7);
  return { file: 'generated-327680.stl', bytes: binaryStl(Array.from(ball.positions), Array.from(ball.faces)) };
}
