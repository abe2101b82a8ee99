/*
 * Functions that ran once are still interpreted: the first map of a session costs three times what the fifth does. A worker therefore flattens a small made-up
 * patch a few times when it starts, while the page is still fetching the job.
 */
import { createRandom } from '../base/random.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from '../mesh/build.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { conformal } from './conformal.ts';
import { shape } from './shape.ts';

/** Rounds after which the times of a 20,000-face map stop falling (measured: 6). */
const rounds = 6;

/** Flattens a made-up patch until the engine has compiled what flattening uses. About half a second; breathes between its steps. */
export async function warmUp(run: Run): Promise<void> {
  const mesh = bumpySheet(60);
  for (let round = 0; round < rounds; round++) {
    await conformal.flatten(mesh, {}, run);
    await run.breathe();
  }
  await shape.flatten(mesh, {}, run);
}

/** An irregular sheet with a rise in its middle; side · side squares of two faces. */
function bumpySheet(side: number): HalfEdgeMesh {
  const random = createRandom(1);
  const positions = new Float64Array(3 * (side + 1) * (side + 1));
  const faces = new Uint32Array(6 * side * side);
  for (let j = 0; j <= side; j++) {
    for (let i = 0; i <= side; i++) {
      const v = 3 * (j * (side + 1) + i);
      const [x, y] = [i + 0.4 * (random() - 0.5), j + 0.4 * (random() - 0.5)];
      const [u, w] = [(2 * x) / side - 1, (2 * y) / side - 1];
      positions[v] = x;
      positions[v + 1] = y;
      positions[v + 2] = 0.2 * side * (1 - u * u) * (1 - w * w);
      if (i === side || j === side) continue;
      const corner = j * (side + 1) + i;
      faces.set([corner, corner + 1, corner + side + 2, corner, corner + side + 2, corner + side + 1], 6 * (j * side + i));
    }
  }
  return buildMesh(positions, faces);
}
