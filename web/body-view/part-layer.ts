/*
 * The parts on the body: one sheet a patch, with its outline by kind of edge. They lie on the skin while the maker draws, stand at the
 * middle of their foam afterwards, and fold flat beside the body when asked.
 */
import { BufferAttribute, BufferGeometry, Group, Mesh } from 'three';
import type { ShaderMaterial } from 'three';
import type { Vec3 } from '../../src/base/arrays.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../../src/mesh/half-edge-mesh.ts';
import type { Patch, Side } from '../../src/patches/patch.ts';
import type { Surface } from '../../src/standoff/surface.ts';
import type { Rings } from './clay.ts';
import { partMaterial, setColour, strainTexture } from './clay.ts';
import type { LineShow } from './line-layer.ts';
import { createLineLayer } from './line-layer.ts';
import { joined, segmentsOf } from './segments.ts';
import type { PatchShell } from './patch-shell.ts';
import { buildShell, hitPatch, shownPlace } from './patch-shell.ts';

export interface PartShow {
  readonly patch: Patch;
  readonly surface: Surface;
  readonly flat?: FlatPart;
  readonly colour: string;
  readonly isStriped: boolean;
  readonly thicknessMm: number;
}

export interface PartLook {
  readonly byStrain: boolean;
  readonly strainEnd: number;
  readonly band: { readonly from: number; readonly to: number } | undefined;
  readonly lit: string | undefined;
  readonly seam: string | undefined;
}

export interface PartHit {
  readonly patch: string;
  readonly face: number;
  readonly weights: Vec3;
  readonly distance: number;
}

export interface PartLayer {
  readonly group: Group;
  readonly set: (parts: readonly PartShow[], body: HalfEdgeMesh) => void;
  readonly setLook: (look: PartLook) => void;
  readonly setPose: (lift: number, fold: number) => void;
  readonly hit: (origin: Vec3, direction: Vec3) => PartHit | undefined;
  /** Place of a spot of a part as shown; undefined for an unknown part. */
  readonly placeOf: (patch: string, face: number, weights: Vec3) => Vec3 | undefined;
}

interface Entry {
  readonly show: PartShow;
  readonly body: HalfEdgeMesh;
  readonly shell: PatchShell;
  readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
}

const ink = '#2a2521';
const ochre = '#f0c75e';

/** Sheets are built in slices of this length, so that the page never waits for them, ms. */
const sliceMs = 12;

/** @param onChange told when the parts on show have changed */
export function createPartLayer(rings: Rings, onChange: () => void): PartLayer {
  const group = new Group();
  const sheets = new Group();
  const outlines = createLineLayer(5);
  const highlight = createLineLayer(8);
  group.add(sheets, outlines.group, highlight.group);
  const table = strainTexture();
  let entries: Entry[] = [];
  let round = 0;
  let pose = { lift: 0, fold: 1 };
  let look: PartLook = { byStrain: false, strainEnd: 0.1, band: undefined, lit: undefined, seam: undefined };

  function entryOf(show: PartShow, body: HalfEdgeMesh): Entry {
    const old = entries.find((entry) => entry.show.patch === show.patch);
    if (old?.body === body && old.show.flat === show.flat && old.show.surface === show.surface) {
      setColour(old.mesh.material, 'base', show.colour);
      old.mesh.material.uniforms.isStriped.value = show.isStriped ? 1 : 0;
      old.mesh.material.uniforms.thick.value = show.thicknessMm;
      return { ...old, show };
    }
    const shell = buildShell(show.patch, show.surface, body, show.flat);
    const geometry = new BufferGeometry();
    for (const name of ['position', 'normal', 'skin', 'flatPlace', 'flatNormal'] as const)
      geometry.setAttribute(name, new BufferAttribute(shell[name], 3));
    geometry.setAttribute('shade', new BufferAttribute(shell.shade, 4));
    const mesh = new Mesh(geometry, partMaterial(rings, table, show.colour, show.isStriped));
    mesh.material.uniforms.thick.value = show.thicknessMm;
    mesh.material.polygonOffset = true;
    mesh.material.polygonOffsetFactor = -1;
    mesh.material.polygonOffsetUnits = -2;
    mesh.frustumCulled = false;
    return { show, body, shell, mesh };
  }

  /** The new parts take the place of the old ones, all at once. */
  function swap(next: Entry[]): void {
    for (const entry of entries)
      if (!next.some(({ mesh }) => mesh === entry.mesh)) {
        entry.mesh.geometry.dispose();
        entry.mesh.material.dispose();
      }
    entries = next;
    sheets.clear();
    if (entries.length > 0) sheets.add(...entries.map(({ mesh }) => mesh));
    dress();
    drawOutlines();
    onChange();
  }

  function dress(): void {
    for (const { show, mesh } of entries) {
      const { uniforms } = mesh.material;
      uniforms.byStrain.value = look.byStrain && show.flat ? 1 : 0;
      uniforms.strainEnd.value = look.strainEnd;
      uniforms.isBanded.value = look.band && show.flat ? 1 : 0;
      uniforms.band.value = look.band ? [look.band.from, look.band.to] : [0, 0];
      uniforms.glow.value = look.lit === show.patch.id ? 1 : 0;
      uniforms.lift.value = pose.lift;
      uniforms.fold.value = pose.fold;
    }
  }

  function drawOutlines(): void {
    const lines: LineShow[] = [];
    for (const entry of entries) {
      const of = (kinds: readonly Side['kind'][]): Float32Array =>
        joined(entry.show.patch.sides.filter((side) => kinds.includes(side.kind)).map((side) => sideSegments(entry, side, pose)));
      lines.push({ segments: of(['seam', 'dart']), colour: ink, widthPx: 2.6 });
      lines.push({ segments: of(['border', 'opening']), colour: ink, widthPx: 1.6 });
      for (const mark of entry.show.patch.marks) {
        const places = [...mark.points.face].flatMap((face, i) => [
          ...spotPlace(entry, face, [mark.points.weights[3 * i], mark.points.weights[3 * i + 1], mark.points.weights[3 * i + 2]], pose),
        ]);
        const segments = segmentsOf(places, mark.closed);
        lines.push(
          mark.kind === 'drawn'
            ? { segments, colour: '#6b3a10', widthPx: 1.6 }
            : { segments, colour: '#3f3a35', widthPx: 1.2, dash: [7, 4] },
        );
      }
    }
    outlines.set(lines);
    drawHighlight();
  }

  function drawHighlight(): void {
    const { seam, lit } = look;
    const lines: LineShow[] = [];
    if (seam !== undefined) {
      const segments = joined(
        entries.flatMap((entry) =>
          entry.show.patch.sides.filter((side) => side.seam === seam).map((side) => sideSegments(entry, side, pose)),
        ),
      );
      lines.push({ segments, colour: ochre, widthPx: 6, isFollowed: true });
    }
    const entry = entries.find(({ show }) => show.patch.id === lit);
    if (entry)
      lines.push({ segments: joined(entry.show.patch.sides.map((side) => sideSegments(entry, side, pose))), colour: ochre, widthPx: 3 });
    highlight.set(lines);
  }

  return {
    group,
    set: (parts, body) => {
      const mine = ++round;
      const next: Entry[] = [];
      const go = (): void => {
        if (mine !== round) return;
        const until = performance.now() + sliceMs;
        while (next.length < parts.length && performance.now() < until) next.push(entryOf(parts[next.length], body));
        if (next.length < parts.length) setTimeout(go);
        else swap(next);
      };
      go();
    },
    setLook: (next) => {
      look = next;
      dress();
      drawHighlight();
    },
    setPose: (lift, fold) => {
      pose = { lift, fold };
      dress();
      drawOutlines();
    },
    hit: (origin, direction) => {
      let best: PartHit | undefined;
      for (const { show, shell } of entries) {
        const hit = hitPatch(show.patch.mesh, shell.places, pose.lift, pose.fold, origin, direction);
        if (hit && (!best || hit.distance < best.distance)) best = { patch: show.patch.id, ...hit };
      }
      return best;
    },
    placeOf: (patch, face, weights) => {
      const entry = entries.find(({ show }) => show.patch.id === patch);
      return entry && 3 * face < entry.show.patch.mesh.faces.length ? spotPlace(entry, face, weights, pose) : undefined;
    },
  };
}

interface Pose {
  readonly lift: number;
  readonly fold: number;
}

/** A side as pairs of points on the outer face, a little in front of it. */
function sideSegments({ show, shell }: Entry, side: Side, { lift, fold }: Pose): Float32Array {
  const { mesh } = show.patch;
  const segments = new Float32Array(6 * side.halfEdges.length);
  const out = 0.4 + 0.5 * show.thicknessMm * Math.max(lift, 1 - fold);
  side.halfEdges.forEach((h, i) => {
    [mesh.faces[h], mesh.faces[nextHalfEdge(h)]].forEach((v, j) => {
      const place = shownPlace(shell.places, v, lift, fold);
      for (let k = 0; k < 3; k++) segments[6 * i + 3 * j + k] = place[k] + out * fold * shell.normals[3 * v + k];
    });
  });
  return segments;
}

function spotPlace({ show, shell }: Entry, face: number, weights: Vec3, { lift, fold }: Pose): Vec3 {
  const { mesh } = show.patch;
  const out = 0.4 + 0.5 * show.thicknessMm * Math.max(lift, 1 - fold);
  const place: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    const v = mesh.faces[3 * face + i];
    const corner = shownPlace(shell.places, v, lift, fold);
    for (let k = 0; k < 3; k++) place[k] += weights[i] * (corner[k] + out * fold * shell.normals[3 * v + k]);
  }
  return place;
}
