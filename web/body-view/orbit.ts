/*
 * Where the eye is: it circles a target, level with the picture's up axis. Plain values; every move gives a new one.
 */
import type { Vec3 } from '../../src/base/arrays.ts';

export interface Orbit {
  /** Radians from the front, towards the wearer's left. */
  readonly yaw: number;
  /** Radians above the level. */
  readonly pitch: number;
  /** mm from the target. */
  readonly distance: number;
  /** In picture axes, mm. */
  readonly target: Vec3;
}

/** Opening of the lens, upright, radians: long enough that a body keeps its proportions. */
export const lens = (26 * Math.PI) / 180;

const steepest = (89 * Math.PI) / 180;

export type ViewName = 'front' | 'back' | 'left' | 'right' | 'above' | 'below';

const named: { readonly [Name in ViewName]: Pick<Orbit, 'yaw' | 'pitch'> } = {
  front: { yaw: 0, pitch: 0.06 },
  back: { yaw: Math.PI, pitch: 0.06 },
  left: { yaw: Math.PI / 2, pitch: 0.06 },
  right: { yaw: -Math.PI / 2, pitch: 0.06 },
  above: { yaw: 0, pitch: steepest },
  below: { yaw: 0, pitch: -steepest },
};

export const lookFrom = (orbit: Orbit, name: ViewName): Orbit => ({ ...orbit, ...named[name] });

/** @param dx pixels to the right, dy pixels down: the body follows the hand */
export function turn(orbit: Orbit, dx: number, dy: number): Orbit {
  return { ...orbit, yaw: orbit.yaw - dx * 0.007, pitch: Math.min(steepest, Math.max(-steepest, orbit.pitch + dy * 0.007)) };
}

/** @param heightPx height of the picture in pixels */
export function shift(orbit: Orbit, dx: number, dy: number, heightPx: number): Orbit {
  const perPixel = (2 * orbit.distance * Math.tan(lens / 2)) / heightPx;
  const { right, up } = directions(orbit);
  const move = (k: number): number => orbit.target[k] - dx * perPixel * right[k] + dy * perPixel * up[k];
  return { ...orbit, target: [move(0), move(1), move(2)] };
}

export const zoom = (orbit: Orbit, by: number): Orbit => ({ ...orbit, distance: Math.min(20_000, Math.max(20, orbit.distance * by)) });

export const eyeOf = (orbit: Orbit): Vec3 => {
  const { back } = directions(orbit);
  return [
    orbit.target[0] + orbit.distance * back[0],
    orbit.target[1] + orbit.distance * back[1],
    orbit.target[2] + orbit.distance * back[2],
  ];
};

function directions({ yaw, pitch }: Orbit): { readonly right: Vec3; readonly up: Vec3; readonly back: Vec3 } {
  const [cy, sy, cp, sp] = [Math.cos(yaw), Math.sin(yaw), Math.cos(pitch), Math.sin(pitch)];
  return { right: [cy, 0, -sy], up: [-sy * sp, cp, -cy * sp], back: [sy * cp, sp, cy * cp] };
}

/** The eye so far away that a box fills the picture. @param aspect width over height */
export function fit(orbit: Orbit, min: Vec3, max: Vec3, aspect: number): Orbit {
  const target: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
  const depth = Math.hypot(max[0] - min[0], max[2] - min[2]);
  const half = Math.tan(lens / 2);
  const needed = Math.max((max[1] - min[1]) / 2 / half, depth / 2 / (half * aspect)) * 1.08;
  return { ...orbit, target, distance: needed + depth * 0.3 };
}
