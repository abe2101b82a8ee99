/*
 * Moving over the paper: drag or arrow keys move it, the wheel, pinch, plus and minus change its size.
 */
import { hasLegend, paneSize, paperLayout } from './paper-items.ts';
import { fitPaper, movePaper, paperView, zoomPaper } from './paper-view.ts';

interface Finger {
  readonly x: number;
  readonly y: number;
}

/** A press that moves less is a click on what lies there, pixels. */
const dragPx = 4;

export function bindPaperHand(svg: SVGSVGElement): () => void {
  const fingers = new Map<number, Finger>();
  let start: Finger | undefined;
  let isDragging = false;

  const local = (event: MouseEvent): Finger => {
    const box = svg.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };

  function down(event: PointerEvent): void {
    fingers.set(event.pointerId, local(event));
    start = local(event);
    isDragging = false;
  }

  function move(event: PointerEvent): void {
    const before = fingers.get(event.pointerId);
    if (!before || !start) return;
    const at = local(event);
    if (!isDragging && Math.hypot(at.x - start.x, at.y - start.y) > dragPx) {
      isDragging = true;
      svg.setPointerCapture(event.pointerId);
    }
    if (!isDragging) return;
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    if (other) {
      const spread = (finger: Finger): number => Math.max(1, Math.hypot(finger.x - other.x, finger.y - other.y));
      paperView.value = zoomPaper(paperView.value, spread(at) / spread(before), (at.x + other.x) / 2, (at.y + other.y) / 2);
    } else paperView.value = movePaper(paperView.value, at.x - before.x, at.y - before.y);
    fingers.set(event.pointerId, at);
  }

  function up(event: PointerEvent): void {
    fingers.delete(event.pointerId);
    if (fingers.size === 0) start = undefined;
  }

  // A drag is not a click on the part where it ends.
  function click(event: MouseEvent): void {
    if (isDragging) event.stopPropagation();
    isDragging = false;
  }

  function wheel(event: WheelEvent): void {
    event.preventDefault();
    const at = local(event);
    const turns = Math.sign(event.deltaY) * Math.min(3, Math.max(0.1, Math.abs(event.deltaY) / 100));
    paperView.value = zoomPaper(paperView.value, 1.15 ** -turns, at.x, at.y);
  }

  function key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { width, height } = paneSize.value;
    const by = event.shiftKey ? 160 : 40;
    const moves: Readonly<Record<string, readonly [number, number] | undefined>> = {
      ArrowLeft: [by, 0],
      ArrowRight: [-by, 0],
      ArrowUp: [0, by],
      ArrowDown: [0, -by],
    };
    const arrow = moves[event.key];
    if (arrow) paperView.value = movePaper(paperView.value, ...arrow);
    else if (event.key === '+' || event.key === '=') paperView.value = zoomPaper(paperView.value, 1.2, width / 2, height / 2);
    else if (event.key === '-') paperView.value = zoomPaper(paperView.value, 1 / 1.2, width / 2, height / 2);
    else if (event.key === '0') paperView.value = fitPaper(paperLayout.value, paneSize.value, hasLegend.value);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  const events: readonly (readonly [string, (event: never) => void])[] = [
    ['pointerdown', down],
    ['pointermove', move],
    ['pointerup', up],
    ['pointercancel', up],
    ['keydown', key],
  ];
  for (const [name, listener] of events) svg.addEventListener(name, listener as EventListener);
  svg.addEventListener('click', click, true);
  svg.addEventListener('wheel', wheel, { passive: false });
  return () => {
    for (const [name, listener] of events) svg.removeEventListener(name, listener as EventListener);
    svg.removeEventListener('click', click, true);
    svg.removeEventListener('wheel', wheel);
  };
}
