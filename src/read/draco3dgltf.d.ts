/* The one function of the Draco package that the reader uses; the package has no types of its own. */
declare module 'draco3dgltf' {
  const draco: { readonly createDecoderModule: (options?: { readonly wasmBinary?: Uint8Array }) => Promise<unknown> };
  export default draco;
}
