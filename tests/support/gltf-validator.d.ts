/* What the tests use of gltf-validator, which has no types of its own. */
declare module 'gltf-validator' {
  export interface Report {
    readonly issues: { readonly messages: readonly unknown[] };
    readonly info: { readonly totalVertexCount: number; readonly totalTriangleCount: number; readonly drawCallCount: number };
  }
  export function validateBytes(bytes: Uint8Array): Promise<Report>;
}
