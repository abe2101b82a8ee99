/*
 * Plane cut: two clicks draw a straight cut as it is seen; what lies on the shaded side (an arm, a pedestal) is left out of the body.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import { cross, dot, minus, unit } from '../body-view/axes.ts';
import { act } from '../desk.ts';
import type { Tool, ToolHand, ToolView } from './tool.ts';
import { rounded } from './tool.ts';

/** Name of the mending step that cuts a body by a plane. */
export const planeCutStep = 'cut-plane';

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
      note('The red side goes. Click again to cut, Esc lets go.');
      show();
    },
    click: (at) => {
      if (!first) {
        first = { x: at.x, y: at.y };
        note('Now click the other end of the cut.');
        return;
      }
      plane = planeThrough(first, at);
      if (!plane) return;
      const { normal } = plane;
      // A point of the plane near the body reads better in the job than the eye's place.
      const near = at.hit?.at ?? plane.point;
      const off = dot(minus(near, plane.point), normal);
      const point: Vec3 = [near[0] - off * normal[0], near[1] - off * normal[1], near[2] - off * normal[2]];
      reset();
      act({ kind: 'set-mend-step', args: { step: { step: planeCutStep, accept: true, plane: { point: rounded(point), normal } } } });
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
  hint: 'Click two points: a straight cut as you see it. The red side is left out of the body.',
  station: 'body',
  take: planeHand,
};
