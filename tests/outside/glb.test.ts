import { validateBytes } from 'gltf-validator';
import { describe, expect, it } from 'vitest';
import { glb } from '../../src/export/gltf.ts';
import { handInput, handOptions } from '../support/drawings.ts';

describe('GLB before gltf-validator', () => {
  it.each([0, 1])('file %i has no error and no warning [gltf-validator]', async (index) => {
    const files = await glb.write(handInput(), handOptions);
    const report = await validateBytes(Uint8Array.from(files[index].bytes as Uint8Array));
    expect(report.issues.messages).toEqual([]);
    expect(report.info.totalVertexCount).toBeGreaterThan(0);
  });
  it('is in metres, upright, with the bare body and one area [gltf-validator]', async () => {
    const [body] = await glb.write(handInput(), handOptions);
    const report = await validateBytes(Uint8Array.from(body.bytes as Uint8Array));
    expect(report.info.drawCallCount).toBe(2);
    expect(report.info.totalTriangleCount).toBe(4);
  });
});
