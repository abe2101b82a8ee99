/*
 * The few globals that every engine has and that the ECMAScript library leaves out. `src` is compiled without DOM and Node types;
 * only what stands here may be used from it.
 */
declare class TextDecoder {
  constructor(label?: string, options?: { readonly fatal?: boolean; readonly ignoreBOM?: boolean });
  decode(bytes?: ArrayBufferView, options?: { readonly stream?: boolean }): string;
}
declare class TextEncoder {
  encode(text: string): Uint8Array<ArrayBuffer>;
}
declare function structuredClone<T>(value: T): T;
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Memory {
    constructor(descriptor: { readonly initial: number; readonly maximum?: number; readonly shared?: boolean });
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
  class Instance {
    constructor(module: Module, imports: Record<string, Record<string, unknown>>);
    readonly exports: Record<string, unknown>;
  }
}
