/*
 * Gateway to robust-predicates: exact signs of plane geometry. The package has y down; here y is up, so every sign is turned
 * (a counter-clockwise triangle is positive). Results are exact in sign, approximate in size.
 * The package's in-circle sign is already "inside is positive" for a triangle that is counter-clockwise with y up: it is not turned.
 * @source [shewchuk1997] adaptive exact predicates, as implemented by the package
 */
import { incircle, orient2d } from 'robust-predicates';

/**
 * Twice the signed area of triangle abc: positive when a, b, c turn counter-clockwise (y up), 0 exactly when they lie on a line.
 * The sign is exact for every double; the value is a close approximation. Coordinates in any one unit.
 */
export function orientation(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  return -orient2d(ax, ay, bx, by, cx, cy);
}

/**
 * Positive when d lies inside the circle through the counter-clockwise triangle abc (y up), 0 exactly when on it.
 * For a clockwise triangle the sign is turned.
 */
export function inCircle(ax: number, ay: number, bx: number, by: number, cx: number, cy: number, dx: number, dy: number): number {
  return incircle(ax, ay, bx, by, cx, cy, dx, dy);
}

/**
 * Whether closed segments ab and cd have a point in common, touching and overlapping included. Exact.
 */
export function segmentsMeet(ax: number, ay: number, bx: number, by: number, cx: number, cy: number, dx: number, dy: number): boolean {
  const abc = Math.sign(orientation(ax, ay, bx, by, cx, cy));
  const abd = Math.sign(orientation(ax, ay, bx, by, dx, dy));
  if (abc * abd > 0) return false;
  const cda = Math.sign(orientation(cx, cy, dx, dy, ax, ay));
  const cdb = Math.sign(orientation(cx, cy, dx, dy, bx, by));
  if (cda * cdb > 0) return false;
  if (abc !== 0 || abd !== 0 || cda !== 0 || cdb !== 0) return true;
  // All four on one line: they meet when their boxes do.
  return (
    Math.max(Math.min(ax, bx), Math.min(cx, dx)) <= Math.min(Math.max(ax, bx), Math.max(cx, dx)) &&
    Math.max(Math.min(ay, by), Math.min(cy, dy)) <= Math.min(Math.max(ay, by), Math.max(cy, dy))
  );
}
