/*
 * Read-only typed-array types. Stages pass typed arrays; only the function that allocates one may write into it.
 * `Readonly` alone leaves `fill` and friends; `Omit` alone leaves `a[i] = x`; both together leave neither.
 */

type Mutators = 'fill' | 'set' | 'sort' | 'reverse' | 'copyWithin' | 'buffer' | 'subarray';

/** Read-only view of a Float64Array: geometry, lengths, angles. */
export type F64 = Readonly<Omit<Float64Array, Mutators>>;
/** Read-only view of a Uint32Array: indices. */
export type U32 = Readonly<Omit<Uint32Array, Mutators>>;
/** Read-only view of an Int32Array: indices where −1 means none. */
export type I32 = Readonly<Omit<Int32Array, Mutators>>;
/** Read-only view of a Uint16Array. */
export type U16 = Readonly<Omit<Uint16Array, Mutators>>;
/** Read-only view of a Uint8Array: bytes and flags. */
export type U8 = Readonly<Omit<Uint8Array, Mutators>>;

/** A point or direction in space: x, y, z. */
export type Vec3 = readonly [number, number, number];
/** A point or direction in the plane: x right, y up. */
export type Vec2 = readonly [number, number];

/** The same bytes for a library that reads them and whose types ask for a plain array. Not for writing. */
export const plainBytes = (bytes: U8): Uint8Array => bytes as unknown as Uint8Array;
