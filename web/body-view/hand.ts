/*
 * From pointer, pen, fingers and keys to tool and eye. The left button works the tool where it takes the drag, else it turns the body;
 * right button, Alt or a second finger always move the eye. Once a pen has been seen, it draws and fingers turn. By keyboard a crosshair is the
 * hand: arrows move it, Space presses and lets go, Enter ends, and Alt with arrows turns the body.
 */
import type { Pointing, ToolHand } from '../tools/tool.ts';
import { tool } from '../state.ts';
import type { BodyScene } from './scene.ts';

type Mode = 'none' | 'tool' | 'turn' | 'shift' | 'pinch';

/** A press that moves less than this is a click, pixels. */
const clickPx = 4;
const keyPx = 8;

interface Finger {
  readonly x: number;
  readonly y: number;
}

export function bindHand(canvas: HTMLCanvasElement, scene: BodyScene, hand: () => ToolHand | undefined): () => void {
  const fingers = new Map<number, Finger>();
  let mode: Mode = 'none';
  let start: Finger = { x: 0, y: 0 };
  let last: Finger = { x: 0, y: 0 };
  let hasMoved = false;
  let hasPen = false;
  let waiting: PointerEvent | undefined;
  const cross = createCross(canvas);

  const local = (event: PointerEvent | WheelEvent): Finger => {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const point = (at: Finger, event: { readonly shiftKey: boolean; readonly altKey: boolean }): Pointing => {
    const hit = scene.hitBody(at.x, at.y);
    return { x: at.x, y: at.y, ...(hit ? { hit } : {}), isShift: event.shiftKey, isAlt: event.altKey };
  };

  function down(event: PointerEvent): void {
    cross.hide();
    canvas.focus({ preventScroll: true });
    canvas.setPointerCapture(event.pointerId);
    const at = local(event);
    fingers.set(event.pointerId, at);
    if (event.pointerType === 'pen') hasPen = true;
    if (fingers.size === 2 && event.pointerType === 'touch') {
      if (mode === 'tool') hand()?.cancel();
      mode = 'pinch';
      return;
    }
    [start, last, hasMoved] = [at, at, false];
    const isFingerWithPen = hasPen && event.pointerType === 'touch';
    const isEye = event.button !== 0 || isFingerWithPen || event.shiftKey;
    if (isEye) mode = event.shiftKey || event.button === 1 ? 'shift' : 'turn';
    else mode = hand()?.down?.(point(at, event)) === true ? 'tool' : 'turn';
    event.preventDefault();
  }

  function move(event: PointerEvent): void {
    // One move a picture is enough; the newest counts.
    const isFirst = waiting === undefined;
    waiting = event;
    if (isFirst)
      requestAnimationFrame(() => {
        const newest = waiting;
        waiting = undefined;
        if (newest) follow(newest);
      });
  }

  function follow(event: PointerEvent): void {
    const at = local(event);
    if (fingers.has(event.pointerId)) {
      if (mode === 'pinch') pinch(event.pointerId, at);
      fingers.set(event.pointerId, at);
    }
    const [dx, dy] = [at.x - last.x, at.y - last.y];
    if (Math.hypot(at.x - start.x, at.y - start.y) > clickPx) hasMoved = true;
    last = at;
    if (mode === 'tool') hand()?.move?.(point(at, event));
    else if (mode === 'turn' && hasMoved) scene.turn(dx, dy);
    else if (mode === 'shift' && hasMoved) scene.shift(dx, dy);
    else if (mode === 'none' && event.pointerType !== 'touch') hand()?.over?.(point(at, event));
  }

  function pinch(moved: number, at: Finger): void {
    const other = [...fingers].find(([id]) => id !== moved)?.[1];
    const before = fingers.get(moved);
    if (!other || !before) return;
    const spread = (finger: Finger): number => Math.hypot(finger.x - other.x, finger.y - other.y);
    if (spread(at) > 1) scene.zoom(spread(before) / spread(at));
    scene.shift((at.x - before.x) / 2, (at.y - before.y) / 2);
  }

  function up(event: PointerEvent): void {
    if (waiting) {
      const newest = waiting;
      waiting = undefined;
      follow(newest);
    }
    fingers.delete(event.pointerId);
    const at = local(event);
    if (mode === 'tool') hand()?.up?.(point(at, event));
    else if (mode === 'turn' && !hasMoved && event.button === 0) hand()?.click?.(point(at, event));
    if (fingers.size === 0) mode = 'none';
  }

  function stop(event: PointerEvent): void {
    fingers.delete(event.pointerId);
    if (mode === 'tool') hand()?.cancel();
    mode = 'none';
  }

  function wheel(event: WheelEvent): void {
    event.preventDefault();
    const turns = Math.sign(event.deltaY) * Math.min(3, Math.max(0.25, Math.abs(event.deltaY) / 100));
    if (!event.ctrlKey && hand()?.wheel?.(turns, point(local(event), event)) === true) return;
    scene.zoom(1.12 ** turns);
  }

  const onLeave = (): void => {
    if (mode === 'none') hand()?.out?.();
  };
  const onDouble = (): void => hand()?.finish?.();
  const onMenu = (event: Event): void => event.preventDefault();

  function key(event: KeyboardEvent): void {
    if (keyed(event)) {
      event.preventDefault();
      event.stopPropagation();
    }
  }

  function keyed(event: KeyboardEvent): boolean {
    if (event.ctrlKey || event.metaKey) return false;
    const held = hand();
    const arrow = arrows[event.key];
    if (arrow) {
      const px = event.shiftKey ? 5 * keyPx : keyPx;
      if (tool.value === 'pick' || event.altKey) scene.turn(arrow[0] * px, arrow[1] * px);
      else {
        cross.by(arrow[0] * px, arrow[1] * px);
        const at = point(cross.at(), event);
        if (mode === 'tool') held?.move?.(at);
        else held?.over?.(at);
      }
      return true;
    }
    switch (event.key) {
      case ' ': {
        cross.show();
        const at = point(cross.at(), event);
        if (mode === 'tool') {
          held?.up?.(at);
          mode = 'none';
        } else if (held?.down?.(at) === true) mode = 'tool';
        else held?.click?.(at);
        return true;
      }
      case 'Enter':
        if (mode === 'tool') {
          held?.up?.(point(cross.at(), event));
          mode = 'none';
        } else held?.finish?.();
        return true;
      case 'Backspace':
        held?.back?.();
        return true;
      case 'Delete':
        held?.remove?.();
        return held?.remove !== undefined;
      case 'Escape': {
        const hadSomething = held?.cancel() ?? false;
        mode = 'none';
        cross.hide();
        if (!hadSomething) tool.value = 'pick';
        return true;
      }
      case '+':
      case '=':
        scene.zoom(1 / 1.15);
        return true;
      case '-':
        scene.zoom(1.15);
        return true;
      default:
        return false;
    }
  }

  const events: readonly (readonly [string, (event: never) => void])[] = [
    ['pointerdown', down],
    ['pointermove', move],
    ['pointerup', up],
    ['pointercancel', stop],
    ['pointerleave', onLeave],
    ['dblclick', onDouble],
    ['contextmenu', onMenu],
    ['keydown', key],
    ['blur', cross.hide],
  ];
  for (const [name, listener] of events) canvas.addEventListener(name, listener as EventListener);
  canvas.addEventListener('wheel', wheel, { passive: false });
  return () => {
    for (const [name, listener] of events) canvas.removeEventListener(name, listener as EventListener);
    canvas.removeEventListener('wheel', wheel);
    cross.remove();
  };
}

const arrows: Readonly<Record<string, readonly [number, number] | undefined>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

interface Cross {
  readonly at: () => Finger;
  readonly by: (dx: number, dy: number) => void;
  readonly show: () => void;
  readonly hide: () => void;
  readonly remove: () => void;
}

/** The hand of the keyboard: a crosshair that starts in the middle. */
function createCross(canvas: HTMLCanvasElement): Cross {
  const mark = document.createElement('div');
  mark.className = 'crosshair';
  mark.hidden = true;
  canvas.after(mark);
  let place: Finger | undefined;
  const at = (): Finger => place ?? { x: canvas.clientWidth / 2, y: canvas.clientHeight / 2 };
  const show = (): void => {
    place = at();
    mark.hidden = false;
    mark.style.transform = `translate(${place.x}px, ${place.y}px)`;
  };
  return {
    at,
    show,
    by: (dx, dy) => {
      const { x, y } = at();
      place = { x: Math.min(canvas.clientWidth, Math.max(0, x + dx)), y: Math.min(canvas.clientHeight, Math.max(0, y + dy)) };
      show();
    },
    hide: () => {
      mark.hidden = true;
    },
    remove: () => mark.remove(),
  };
}
