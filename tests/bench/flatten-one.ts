/*
 * One mesh, one method, some repeats, in a process of its own so that its peak memory is its own. Prints one line of JSON.
 * Words: an OBJ file or a number of faces to generate, the method, the repeats.
 */
import { readFileSync } from 'node:fs';
import { quietRun } from '../../src/base/run.ts';
import { conformalEnergy, faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { warmUp } from '../../src/flatten/warm-up.ts';
import { methodOf } from '../../src/flatten/index.ts';
import { borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import type { StageSeconds } from '../../src/flatten/flatten-method.ts';
import { benchMesh } from './flatten-mesh.ts';

const [source, method, repeats] = process.argv.slice(2);
const mesh = benchMesh(/^\d+$/.test(source) ? Number(source) : readFileSync(source, 'utf8'));
// As the page's worker does when it starts.
await warmUp(quietRun);
const clock = (): number => performance.now() / 1000;
const before = process.memoryUsage.rss();
const times: StageSeconds[] = [];
let map = await methodOf(method).flatten(mesh, { clock }, quietRun);
const peakMb = (process.resourceUsage().maxRSS * 1024 - before) / 1e6;
times.push(map.seconds);
for (let repeat = 1; repeat < Number(repeats); repeat++) {
  map = await methodOf(method).flatten(mesh, { clock }, quietRun);
  times.push(map.seconds);
}
const distortion = faceDistortion(mesh, map.positions);
const median = (key: keyof StageSeconds): number => times.map((one) => one[key]).sort((a, b) => a - b)[Math.floor(times.length / 2)];
const keys: readonly (keyof StageSeconds)[] = ['assemble', 'order', 'factor', 'solve', 'refine', 'total'];
console.log(
  JSON.stringify({
    faces: mesh.faces.length / 3,
    firstSeconds: times[0].total,
    medianSeconds: Object.fromEntries(keys.map((key) => [key, median(key)])),
    peakMb,
    quality: {
      iterations: map.iterations,
      converged: map.converged,
      flips: flippedFaces(mesh, map.positions).length,
      overlaps: borderOverlaps(mesh, map.positions).count,
      conformalEnergy: conformalEnergy(distortion),
      symmetricDirichlet: symmetricDirichlet(distortion),
    },
    pins: map.pins,
  }),
);
