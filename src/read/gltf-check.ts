/*
 * The inside of a glTF file, checked before any library touches it: every index in range, every accessor inside its buffer, no circle of
 * nodes. What is left is only what gives the surface (no materials, pictures, animations).
 */
import { badIndex, cutOff, malformed } from './faults.ts';
import { isRecord } from './gltf-container.ts';

type Json = Record<string, unknown>;

/** The part of a glTF that gives the surface. */
export interface GltfSurface {
  readonly json: Json;
  readonly nodes: readonly Json[];
  readonly meshes: readonly Json[];
  readonly skins: readonly Json[];
  /** Nodes to start from. */
  readonly roots: readonly number[];
}

const componentBytes: Readonly<Record<number, number>> = { 5120: 1, 5121: 1, 5122: 2, 5123: 2, 5125: 4, 5126: 4 };
const componentCount: Readonly<Record<string, number>> = { SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4, MAT2: 4, MAT3: 9, MAT4: 16 };
/** Extensions that change how positions are stored. */
const geometryExtensions = ['KHR_draco_mesh_compression', 'EXT_meshopt_compression', 'KHR_mesh_quantization'];

/**
 * Checks a glTF and keeps what gives its surface.
 * @throws read/malformed, read/bad-index, read/cut-off
 */
export function checkGltf(name: string, json: Json, buffers: readonly (Uint8Array | undefined)[]): GltfSurface {
  const list = (key: string): Json[] => {
    const value = json[key];
    if (value === undefined) return [];
    if (!Array.isArray(value) || !value.every(isRecord)) throw malformed(name, `"${key}" is not a list of objects`, undefined);
    return value;
  };
  const [bufferList, views, accessors, meshes, nodes, scenes, skins] = [
    list('buffers'),
    list('bufferViews'),
    list('accessors'),
    list('meshes'),
    list('nodes'),
    list('scenes'),
    list('skins'),
  ];
  views.forEach((view, i) => checkView(name, view, i, buffers));
  accessors.forEach((accessor, i) => checkAccessor(name, accessor, i, views));
  meshes.forEach((mesh, i) => checkMesh(name, mesh, i, accessors.length));
  nodes.forEach((node, i) => checkNode(name, node, i, nodes.length, meshes.length, skins.length));
  checkTree(name, nodes);
  const kept: Json = {
    asset: { version: '2.0' },
    extensionsUsed: geometryExtensions.filter(
      (extension) => stringsOf(json.extensionsUsed).includes(extension) || usesExtension(json, extension),
    ),
    buffers: bufferList,
    bufferViews: views,
    accessors,
    meshes: meshes.map((mesh) => ({ ...mesh, primitives: primitivesOf(mesh).map(({ material: _, ...rest }) => rest) })),
  };
  return { json: kept, nodes, meshes, skins, roots: rootsOf(json, scenes, nodes) };
}

const stringsOf = (value: unknown): string[] => (Array.isArray(value) ? value.filter((entry) => typeof entry === 'string') : []);
const usesExtension = (json: Json, extension: string): boolean => stringsOf(json.extensionsRequired).includes(extension);

/** The primitives of a mesh. */
export function primitivesOf(mesh: Json): Json[] {
  return Array.isArray(mesh.primitives) ? (mesh.primitives as Json[]) : [];
}

/** The children of a node. */
export function childrenOf(node: Json): number[] {
  return Array.isArray(node.children) ? (node.children as number[]) : [];
}

function checkedIndex(name: string, value: unknown, total: number, what: string): number {
  if (typeof value !== 'number' || !Number.isInteger(value) || value < 0 || value >= total)
    throw malformed(name, `${what} refers to number ${String(value)}, but there are ${total}`, undefined);
  return value;
}

const whole = (value: unknown): number => (typeof value === 'number' && Number.isFinite(value) && value >= 0 ? Math.floor(value) : 0);

function checkView(name: string, view: Json, i: number, buffers: readonly (Uint8Array | undefined)[]): void {
  const extensions = view.extensions as Json | undefined;
  const compressed = extensions?.EXT_meshopt_compression as Json | undefined;
  const source = compressed ?? view;
  const data = buffers[checkedIndex(name, source.buffer, buffers.length, `buffer view ${i}`)];
  const end = whole(source.byteOffset) + whole(source.byteLength);
  if (data === undefined) throw malformed(name, `buffer view ${i} lies in a buffer that has no bytes`, undefined);
  if (end > data.length) throw cutOff(name, `buffer view ${i} ends at byte ${end} of a buffer of ${data.length}`, { byte: data.length });
}

function checkAccessor(name: string, accessor: Json, i: number, views: readonly Json[]): void {
  const size = componentBytes[accessor.componentType as number];
  const count = componentCount[accessor.type as string];
  if (size === undefined || count === undefined)
    throw malformed(
      name,
      `accessor ${i} has component type ${String(accessor.componentType)} and type ${String(accessor.type)}`,
      undefined,
    );
  if (typeof accessor.count !== 'number' || !Number.isInteger(accessor.count) || accessor.count < 0)
    throw malformed(name, `accessor ${i} has ${String(accessor.count)} elements`, undefined);
  if (accessor.bufferView === undefined) return;
  const view = views[checkedIndex(name, accessor.bufferView, views.length, `accessor ${i}`)];
  const stride = whole(view.byteStride) || size * count;
  const end = accessor.count === 0 ? 0 : whole(accessor.byteOffset) + (accessor.count - 1) * stride + size * count;
  if (end > whole(view.byteLength))
    throw cutOff(name, `accessor ${i} needs ${end} bytes of a buffer view of ${whole(view.byteLength)}`, { byte: whole(view.byteOffset) });
}

function checkMesh(name: string, mesh: Json, i: number, accessorTotal: number): void {
  for (const primitive of primitivesOf(mesh)) {
    if (!isRecord(primitive)) throw malformed(name, `mesh ${i} has a primitive that is not an object`, undefined);
    const attributes = (primitive.attributes ?? {}) as Json;
    for (const [key, value] of Object.entries(attributes)) checkedIndex(name, value, accessorTotal, `attribute ${key} of mesh ${i}`);
    if (primitive.indices !== undefined) checkedIndex(name, primitive.indices, accessorTotal, `the indices of mesh ${i}`);
  }
}

function checkNode(name: string, node: Json, i: number, nodeTotal: number, meshTotal: number, skinTotal: number): void {
  if (node.mesh !== undefined) checkedIndex(name, node.mesh, meshTotal, `node ${i}`);
  if (node.skin !== undefined) checkedIndex(name, node.skin, skinTotal, `node ${i}`);
  for (const child of childrenOf(node)) checkedIndex(name, child, nodeTotal, `a child of node ${i}`);
}

/** Every node has one parent at most, and nobody is his own ancestor. */
function checkTree(name: string, nodes: readonly Json[]): void {
  const parent = new Int32Array(nodes.length).fill(-1);
  nodes.forEach((node, i) => {
    for (const child of childrenOf(node)) {
      if (parent[child] !== -1 && parent[child] !== i)
        throw malformed(name, `node ${child} has two parents, ${parent[child]} and ${i}`, undefined);
      parent[child] = i;
    }
  });
  for (let i = 0; i < nodes.length; i++) {
    let at = i;
    for (let steps = 0; at !== -1; steps++) {
      if (steps > nodes.length) throw malformed(name, `node ${i} is its own ancestor`, undefined);
      at = parent[at];
    }
  }
}

/** The nodes of the scene that the file shows first; all nodes without a parent where it has no scene. */
function rootsOf(json: Json, scenes: readonly Json[], nodes: readonly Json[]): number[] {
  const scene = scenes[typeof json.scene === 'number' ? json.scene : 0] as Json | undefined;
  const listed = Array.isArray(scene?.nodes)
    ? (scene.nodes as unknown[]).filter((i): i is number => typeof i === 'number' && i in nodes)
    : [];
  if (listed.length > 0) return listed;
  const isChild = new Set(nodes.flatMap(childrenOf));
  return nodes.map((_, i) => i).filter((i) => !isChild.has(i));
}

/** Indices of a primitive, checked. */
export function checkIndices(name: string, indices: ArrayLike<number>, vertexTotal: number): void {
  for (let i = 0; i < indices.length; i++)
    if (indices[i] >= vertexTotal) throw badIndex(name, indices[i], vertexTotal, Math.floor(i / 3), undefined);
}
