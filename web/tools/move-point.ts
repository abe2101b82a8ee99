/*
 * Points of lines: drag one, click a line to put one in, Delete takes one out. The path and its length follow while it is dragged.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import type { LineMark } from '../../src/lines/line.ts';
import { act, engine } from '../desk.ts';
import { segmentsOf } from '../body-view/segments.ts';
import { showMm } from '../fields/quantity.ts';
import { job, selection, traces } from '../state.ts';
import { latestOnly } from './latest.ts';
import { lineColours } from './line-words.ts';
import { snapToMiddle } from './mirror.ts';
import { segmentOf } from './segment-of.ts';
import type { Pointing, Tool, ToolHand, ToolView } from './tool.ts';
import { rounded } from './tool.ts';

const gripPx = 14;
const linePx = 8;

interface Grip {
  readonly line: LineMark;
  readonly index: number;
}

export function pointHand({ scene, note }: ToolView): ToolHand {
  let grip: Grip | undefined;
  let over: Grip | undefined;
  let to: Vec3 | undefined;

  const tracing = latestOnly(
    (line: LineMark) => engine.ask({ kind: 'trace', line }),
    (trace, line) => {
      if (!grip) return;
      scene.preview.set([{ segments: segmentsOf(trace.positions), colour: lineColours[line.kind], widthPx: 3, isFollowed: true }]);
      note(`${line.id} ${showMm(trace.lengthMm)}`, to);
      scene.redraw();
    },
  );

  function gripAt(at: Pointing): Grip | undefined {
    let best: (Grip & { readonly px: number }) | undefined;
    for (const line of job.value?.marks.lines ?? [])
      line.points.forEach((p, index) => {
        const seen = scene.project(p);
        const px = Math.hypot(seen.x - at.x, seen.y - at.y);
        if (!seen.isHidden && px < gripPx && (!best || px < best.px)) best = { line, index, px };
      });
    return best;
  }

  function showPoints(): void {
    const chosen = selection.value?.kind === 'line' ? selection.value.id : undefined;
    scene.handles.set(
      (job.value?.marks.lines ?? []).flatMap((line) =>
        line.points.map((at, index) => {
          const isHeld = grip?.line.id === line.id && grip.index === index;
          const isOver = over?.line.id === line.id && over.index === index;
          return {
            at: isHeld && to ? to : at,
            colour: isHeld || isOver ? '#f0c75e' : '#fffaf2',
            sizePx: isOver || isHeld ? 17 : line.id === chosen ? 14 : 11,
          };
        }),
      ),
    );
    scene.redraw();
  }

  function letGo(): void {
    grip = undefined;
    to = undefined;
    tracing.forget();
    scene.preview.set([]);
    note(undefined);
    showPoints();
  }

  /** Line and place of insertion under the pointer: the index of the point before which a new one goes. */
  function lineAt(at: Pointing): Grip | undefined {
    for (const trace of traces.value ?? []) {
      const line = job.value?.marks.lines.find(({ id }) => id === trace.line);
      if (!line) continue;
      for (let i = 0; i < trace.positions.length; i += 3) {
        const p: Vec3 = [trace.positions[i], trace.positions[i + 1], trace.positions[i + 2]];
        const seen = scene.project(p);
        if (!seen.isHidden && Math.hypot(seen.x - at.x, seen.y - at.y) < linePx)
          return { line, index: segmentOf(line, trace.positions, i / 3) };
      }
    }
    return undefined;
  }

  showPoints();
  return {
    over: (at) => {
      const next = gripAt(at);
      if (next?.line.id === over?.line.id && next?.index === over?.index) return;
      over = next;
      note(next && `point ${next.index + 1} of ${next.line.id}`, next?.line.points[next.index]);
      showPoints();
    },
    down: (at) => {
      grip = gripAt(at);
      if (!grip) return false;
      selection.value = { kind: 'line', id: grip.line.id };
      return true;
    },
    move: (at) => {
      if (!grip || !at.hit) return;
      to = rounded(at.isAlt ? at.hit.at : snapToMiddle(scene.index(), at.hit.at));
      showPoints();
      const { line, index } = grip;
      tracing.ask({ ...line, points: line.points.map((p, i) => (i === index && to ? to : p)) });
    },
    up: () => {
      const moved = grip && to ? { line: grip.line.id, index: grip.index, to } : undefined;
      letGo();
      if (moved) act({ kind: 'move-line-point', args: moved });
      showPoints();
    },
    click: (at) => {
      const found = lineAt(at);
      if (!found || !at.hit) return;
      selection.value = { kind: 'line', id: found.line.id };
      act({ kind: 'insert-line-point', args: { line: found.line.id, index: found.index, at: rounded(at.hit.at) } });
      showPoints();
    },
    remove: () => {
      if (!over) return;
      const { line, index } = over;
      over = undefined;
      act({ kind: 'remove-line-point', args: { line: line.id, index } });
      showPoints();
    },
    cancel: () => {
      const wasBusy = grip !== undefined;
      letGo();
      return wasBusy;
    },
  };
}

export const pointTool: Tool = {
  name: 'point',
  title: 'Points',
  icon: 'point',
  key: 'G',
  hint: 'Drag a point; the line follows. Click a line to put a point in, Delete takes one out, Esc lets go.',
  station: 'draw',
  take: pointHand,
};
