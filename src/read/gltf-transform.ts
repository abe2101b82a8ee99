/*
 * Affine maps of a glTF's nodes, in double precision and column-major like the file: m[4·column + row].
 */
import { childrenOf } from './gltf-check.ts';

/** A 4×4 matrix, column after column. */
export type Matrix = readonly number[];

const identity: Matrix = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

/** The product a·b. */
export function multiply(a: Matrix, b: Matrix): Matrix {
  const product = new Array<number>(16).fill(0);
  for (let column = 0; column < 4; column++)
    for (let row = 0; row < 4; row++) for (let k = 0; k < 4; k++) product[4 * column + row] += a[4 * k + row] * b[4 * column + k];
  return product;
}

/** Determinant of the linear part: negative where the map turns a surface inside out. */
export function determinant(m: Matrix): number {
  return m[0] * (m[5] * m[10] - m[9] * m[6]) - m[4] * (m[1] * m[10] - m[9] * m[2]) + m[8] * (m[1] * m[6] - m[5] * m[2]);
}

const numbers = (value: unknown, fallback: readonly number[]): readonly number[] =>
  Array.isArray(value) && value.length === fallback.length && value.every((entry) => typeof entry === 'number' && Number.isFinite(entry))
    ? (value as number[])
    : fallback;

/** The map of one node: its matrix, or translation · rotation · scale. */
export function localMatrix(node: Readonly<Record<string, unknown>>): Matrix {
  if (node.matrix !== undefined) return numbers(node.matrix, identity);
  const [tx, ty, tz] = numbers(node.translation, [0, 0, 0]);
  const [x, y, z, w] = numbers(node.rotation, [0, 0, 0, 1]);
  const [sx, sy, sz] = numbers(node.scale, [1, 1, 1]);
  return [
    (1 - 2 * (y * y + z * z)) * sx,
    2 * (x * y + z * w) * sx,
    2 * (x * z - y * w) * sx,
    0,
    2 * (x * y - z * w) * sy,
    (1 - 2 * (x * x + z * z)) * sy,
    2 * (y * z + x * w) * sy,
    0,
    2 * (x * z + y * w) * sz,
    2 * (y * z - x * w) * sz,
    (1 - 2 * (x * x + y * y)) * sz,
    0,
    tx,
    ty,
    tz,
    1,
  ];
}

/**
 * The map of every node that hangs below `roots`, from its own coordinates to the scene's.
 * @returns by node number; undefined for nodes outside the scene. The tree must have no circle.
 */
export function worldMatrices(nodes: readonly Readonly<Record<string, unknown>>[], roots: readonly number[]): (Matrix | undefined)[] {
  const world = new Array<Matrix | undefined>(nodes.length).fill(undefined);
  const stack: { node: number; parent: Matrix }[] = roots.map((node) => ({ node, parent: identity }));
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    const matrix = multiply(next.parent, localMatrix(nodes[next.node]));
    world[next.node] = matrix;
    for (const child of childrenOf(nodes[next.node])) stack.push({ node: child, parent: matrix });
  }
  return world;
}
