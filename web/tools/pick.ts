/*
 * Pick: points at parts and their edges; a click selects. What is pointed at on the body shows on the paper too.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import { cut, hoverSeam, hoverSpot, selection, traces } from '../state.ts';
import type { Pointing, Tool, ToolHand, ToolView } from './tool.ts';

const edgePx = 9;

function pickHand({ scene, note }: ToolView): ToolHand {
  function edgeAt(at: Pointing): { readonly seam?: string; readonly line?: string } | undefined {
    for (const trace of traces.value ?? [])
      for (let i = 0; i < trace.positions.length; i += 3) {
        const p: Vec3 = [trace.positions[i], trace.positions[i + 1], trace.positions[i + 2]];
        const seen = scene.project(p);
        if (Math.hypot(seen.x - at.x, seen.y - at.y) > edgePx || seen.isHidden) continue;
        const seam = cut.value?.seams.find(({ line }) => line === trace.line)?.id;
        return { line: trace.line, ...(seam === undefined ? {} : { seam }) };
      }
    return undefined;
  }

  return {
    over: (at) => {
      const spot = scene.hitPart(at.x, at.y);
      const skin = at.hit;
      const eye = scene.rayAt(at.x, at.y).origin;
      const isBehind =
        spot !== undefined &&
        skin !== undefined &&
        Math.hypot(skin.at[0] - eye[0], skin.at[1] - eye[1], skin.at[2] - eye[2]) < spot.distance - 4;
      hoverSpot.value =
        spot && !isBehind
          ? { patch: spot.patch, face: spot.face, weights: [spot.weights[0], spot.weights[1], spot.weights[2]] }
          : undefined;
      hoverSeam.value = edgeAt(at)?.seam;
    },
    out: () => {
      hoverSpot.value = undefined;
      hoverSeam.value = undefined;
    },
    click: (at) => {
      const edge = edgeAt(at);
      const spot = scene.hitPart(at.x, at.y);
      if (edge?.line !== undefined) selection.value = { kind: 'line', id: edge.line.replace(/:mirror$/, '') };
      else if (spot) selection.value = { kind: 'part', id: spot.patch };
      else selection.value = undefined;
    },
    cancel: () => {
      note(undefined);
      const had = selection.value !== undefined;
      selection.value = undefined;
      return had;
    },
  };
}

export const pickTool: Tool = {
  name: 'pick',
  title: 'Look',
  icon: 'pick',
  key: 'V',
  hint: 'Drag turns the body, Shift and drag moves it, the wheel comes nearer. Point at a part to find it on the paper.',
  take: pickHand,
};
