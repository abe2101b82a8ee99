/*
 * The body in clay, and over it what a stroke reaches while it is being drawn.
 */
import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Group, Mesh } from 'three';
import type { Vec3 } from '../../src/base/arrays.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import type { BodyIndex, TreeBuilder } from './body-index.ts';
import type { Rings } from './clay.ts';
import { bodyMaterial, reachMaterial, setColour } from './clay.ts';
import { forgetReach, reachInto } from './reach.ts';
import { hollowLight, smoothNormals } from './shading.ts';

export interface StrokeShow {
  /** Vertices' faces and places that the brush has been over, newest last. */
  readonly samples: readonly { readonly at: Vec3; readonly face: number }[];
  readonly radiusMm: number;
  readonly colour: string;
  readonly isErasing: boolean;
}

export interface BodyLayer {
  readonly group: Group;
  readonly index: () => BodyIndex | undefined;
  readonly setMesh: (mesh: HalfEdgeMesh | undefined) => void;
  /** Grows the reach by the samples that are new since the last call; undefined clears it. */
  readonly showStroke: (stroke: StrokeShow | undefined) => void;
  readonly showCut: (plane: { readonly normal: Vec3; readonly offset: number } | undefined) => void;
  readonly setTone: (isDark: boolean) => void;
}

export function createBodyLayer(rings: Rings, trees: TreeBuilder, onReady: () => void): BodyLayer {
  const group = new Group();
  const clay = bodyMaterial(rings);
  const reachClay = reachMaterial();
  let index: BodyIndex | undefined;
  let mesh: HalfEdgeMesh | undefined;
  let geometry: BufferGeometry | undefined;
  let reachMesh: Mesh | undefined;
  let shown = 0;

  return {
    group,
    index: () => index,
    setMesh: (next) => {
      if (next === mesh) return;
      mesh = next;
      group.clear();
      geometry?.dispose();
      geometry = undefined;
      index = undefined;
      shown = 0;
      if (!next) return;
      geometry = geometryOf(next);
      index = trees.build(geometry, onReady);
      reachMesh = new Mesh(geometry, reachClay);
      reachMesh.visible = false;
      reachMesh.renderOrder = 3;
      group.add(new Mesh(geometry, clay), reachMesh);
    },
    showStroke: (stroke) => {
      if (!geometry || !mesh || !reachMesh) return;
      const reach = geometry.attributes.reach as BufferAttribute;
      const values = reach.array as Float32Array;
      if (!stroke || stroke.samples.length < shown) {
        forgetReach(values);
        shown = 0;
      }
      reachMesh.visible = stroke !== undefined;
      if (stroke) {
        for (const sample of stroke.samples.slice(shown)) reachInto(values, mesh, sample, stroke.radiusMm);
        shown = stroke.samples.length;
        setColour(reachClay, 'colour', stroke.isErasing ? '#e9e2d8' : stroke.colour);
        reachClay.uniforms.opacity.value = stroke.isErasing ? 0.72 : 0.82;
      }
      reach.needsUpdate = true;
    },
    showCut: (plane) => {
      clay.uniforms.isCutting.value = plane ? 1 : 0;
      if (plane) (clay.uniforms.cutPlane.value as { set: (...values: number[]) => void }).set(...plane.normal, plane.offset);
    },
    setTone: (isDark) => setColour(clay, 'base', isDark ? '#bfa893' : '#cfb9a4'),
  };
}

function geometryOf(mesh: HalfEdgeMesh): BufferGeometry {
  const geometry = new BufferGeometry();
  const normals = smoothNormals(mesh);
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3));
  geometry.setAttribute('normal', new BufferAttribute(normals, 3));
  geometry.setAttribute('open', new BufferAttribute(hollowLight(mesh, normals), 1));
  const reach = new BufferAttribute(forgetReach(new Float32Array(mesh.positions.length / 3)), 1);
  reach.setUsage(DynamicDrawUsage);
  geometry.setAttribute('reach', reach);
  geometry.setIndex(new BufferAttribute(Uint32Array.from(mesh.faces), 1));
  return geometry;
}
