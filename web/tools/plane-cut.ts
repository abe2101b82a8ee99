/*
 * Plane cut: two clicks draw a straight cut as it is seen; the piece on the shaded side (an arm) is
 * left out of the body; with Shift everything on that side (a head, a pedestal).
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import { cross, dot, minus, plus, unit } from '../body-view/axes.ts';
import { act } from '../desk.ts';
import { job } from '../state.ts';
import type { Tool, ToolHand, ToolView } from './tool.ts';
import { rounded } from './tool.ts';

/** Mending steps that cut a body by a plane: only the piece at the plane's point, or everything beyond it. */
export const planeCutSteps = { part: 'cut-part', all: 'cut' } as const;

function planeHand({ scene, note }: ToolView): ToolHand {
  let first: { readonly x: number; readonly y: number } | undefined;
  let plane: { readonly point: Vec3; readonly normal: Vec3 } | undefined;

  function planeThrough(a: { readonly x: number; readonly y: number }, b: { readonly x: number; readonly y: number }): typeof plane {
    if (Math.hypot(a.x - b.x, a.y - b.y) < 4) return undefined;
    const [p, q] = [scene.rayAt(a.x, a.y), scene.rayAt(b.x, b.y)];
    // Left of the drawn direction is kept.
    return { point: p.origin, normal: unit(cross(p.direction, q.direction)) };
  }

  function show(): void {
    scene.bodyLayer.showCut(plane && { normal: plane.normal, offset: dot(plane.normal, plane.point) });
    scene.redraw();
  }

  function reset(): void {
    first = undefined;
    plane = undefined;
    note(undefined);
    show();
  }

  return {
    over: (at) => {
      if (!first) return;
      plane = planeThrough(first, at);
      note('The piece on the red side goes. Click again to cut, Esc lets go.');
      show();
    },
    click: (at) => {
      if (!first) {
        first = { x: at.x, y: at.y };
        note('Now click the other end of the cut.');
        return;
      }
      const from = first;
      const found = planeThrough(from, at);
      if (!found) return;
      // The piece that is meant is the one whose cut runs nearest to the middle of what was drawn.
      const middle = scene.hitBody((from.x + at.x) / 2, (from.y + at.y) / 2)?.at ?? at.hit?.at ?? found.point;
      const off = dot(minus(middle, found.point), found.normal);
      const point = rounded(plus(middle, found.normal, -off));
      reset();
      const step = { step: at.isShift ? planeCutSteps.all : planeCutSteps.part, accept: true, plane: { point, normal: found.normal } };
      // Several cuts of one kind stand side by side, so the list is set as a whole.
      act({ kind: 'set-body', args: { change: { mend: [...(job.value?.body.mend ?? []), step] } } });
    },
    cancel: () => {
      const wasBusy = first !== undefined;
      reset();
      return wasBusy;
    },
  };
}

export const planeTool: Tool = {
  name: 'plane',
  title: 'Plane cut',
  icon: 'plane',
  key: 'X',
  hint: 'Click two points: a straight cut as you see it. The piece on the red side is left out; with Shift, all of that side.',
  station: 'body',
  take: planeHand,
};
