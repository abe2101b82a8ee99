/*
 * Which way a bent part is straight. A sheet bends one way only; its straight lines are sought as a field of the plane, parallel (cylinder) or through
 * one apex (cone), along which the surface turns least. Judging single lines from border to border would reward lines that cut corners off, so the
 * field is judged face by face.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceAreas, vertexNormals } from '../mesh/measure.ts';

/** Direction r(p) ∝ r₀ + κ·(p − c): κ = 0 is parallel, else all lines pass through the apex c − r₀/κ. */
export interface StraightField {
  readonly centre: Vec2;
  readonly direction: Vec2;
  /** κ, 1/mm. */
  readonly fan: number;
  /** Mean square curvature along the field, 1/mm². */
  readonly curvature: number;
}

/** Unit direction of a field at a point. */
export function directionAt(field: StraightField, at: Vec2): Vec2 {
  const x = field.direction[0] + field.fan * (at[0] - field.centre[0]);
  const y = field.direction[1] + field.fan * (at[1] - field.centre[1]);
  const length = Math.hypot(x, y);
  return length > 0 ? [x / length, y / length] : field.direction;
}

/** Angles tried in half a turn; fans tried, as the patch's mean radius over the distance of the apex; refinements. */
const search = { angles: 90, fans: [-0.3, 0.3, -0.6, 0.6, -0.9, 0.9], rounds: 24 };

/** A fan must lower the cost to this share to be believed: on a doubly curved part it would only follow noise. */
const fanGain = 0.7;

/** What the search reads of each face: centre in the plane, area, and GᵀG for G the change of the normal per mm in the plane (xx, xy, yy). */
interface TurningFaces {
  readonly centres: F64;
  readonly areas: F64;
  readonly turning: F64;
}

/**
 * The field that minimises (∫ |G·r|² dA / A)·(rᵀ·I·r), G the gradient of the unit normal in the plane, I the area's covariance: mean square
 * curvature along the lines times their mean square length. A cylinder and a cone have a field of no curvature at all, whatever their outline;
 * where the surface curves alike all ways, as on a sphere, the short way across wins.
 * @param positions plane positions, 2·n, mm
 */
export function findStraightField(mesh: HalfEdgeMesh, positions: F64, thicknessMm: number): StraightField {
  const faces = turningFaces(mesh, positions, thicknessMm);
  const { centre, covariance, radius } = spreadOf(faces);
  const fieldOf = (angle: number, fan: number): StraightField => {
    const field = { centre, direction: [cos(angle), sin(angle)] as const, fan: fan / radius, curvature: 0 };
    return { ...field, curvature: meanCurvature(faces, field) };
  };
  const cost = ({ direction: [x, y], curvature }: StraightField): number =>
    curvature * (covariance[0] * x * x + 2 * covariance[1] * x * y + covariance[2] * y * y);
  let best = { angle: 0, fan: 0, field: fieldOf(0, 0) };
  const consider = (angle: number, fan: number, share: number): void => {
    const field = fieldOf(angle, fan);
    if (cost(field) < share * cost(best.field)) best = { angle, fan, field };
  };
  const step = Math.PI / search.angles;
  for (let i = 1; i < search.angles; i++) consider(i * step, 0, 1);
  const parallel = best;
  for (const fan of search.fans) for (let i = 0; i < search.angles; i++) consider(i * step, fan, best === parallel ? fanGain : 1);
  for (let round = 0, width = step; round < search.rounds; round++, width /= 1.5) {
    for (const angle of [best.angle - width, best.angle + width]) consider(angle, best.fan, 1);
    if (best.fan !== 0) for (const fan of [best.fan - 4 * width, best.fan + 4 * width]) consider(best.angle, fan, 1);
  }
  return best.field;
}

function meanCurvature({ centres, areas, turning }: TurningFaces, field: StraightField): number {
  let sum = 0;
  let total = 0;
  const [dx, dy] = field.direction;
  const [cx, cy] = field.centre;
  for (let f = 0; f < areas.length; f++) {
    // As in directionAt, but the length is divided out of the quadratic form.
    const x = dx + field.fan * (centres[2 * f] - cx);
    const y = dy + field.fan * (centres[2 * f + 1] - cy);
    const square = x * x + y * y;
    if (square > 0) sum += (areas[f] * (turning[3 * f] * x * x + 2 * turning[3 * f + 1] * x * y + turning[3 * f + 2] * y * y)) / square;
    total += areas[f];
  }
  return sum / total;
}

function spreadOf({ centres, areas }: TurningFaces): {
  readonly centre: Vec2;
  readonly covariance: readonly [number, number, number];
  readonly radius: number;
} {
  let [total, x, y] = [0, 0, 0];
  for (let f = 0; f < areas.length; f++) {
    total += areas[f];
    x += areas[f] * centres[2 * f];
    y += areas[f] * centres[2 * f + 1];
  }
  [x, y] = [x / total, y / total];
  let [xx, xy, yy] = [0, 0, 0];
  for (let f = 0; f < areas.length; f++) {
    const [dx, dy] = [centres[2 * f] - x, centres[2 * f + 1] - y];
    xx += (areas[f] * dx * dx) / total;
    xy += (areas[f] * dx * dy) / total;
    yy += (areas[f] * dy * dy) / total;
  }
  return { centre: [x, y], covariance: [xx, xy, yy], radius: 2 * Math.sqrt(xx + yy) };
}

function turningFaces(mesh: HalfEdgeMesh, positions: F64, thicknessMm: number): TurningFaces {
  const { faces } = mesh;
  const areas = faceAreas(mesh);
  const normals = smoothNormals(mesh, areas, 2 * thicknessMm);
  const centres = new Float64Array(2 * areas.length);
  const turning = new Float64Array(3 * areas.length);
  for (let f = 0; f < areas.length; f++) {
    const [a, b, c] = [faces[3 * f], faces[3 * f + 1], faces[3 * f + 2]];
    const [ux, uy] = [positions[2 * b] - positions[2 * a], positions[2 * b + 1] - positions[2 * a + 1]];
    const [vx, vy] = [positions[2 * c] - positions[2 * a], positions[2 * c + 1] - positions[2 * a + 1]];
    centres[2 * f] = positions[2 * a] + (ux + vx) / 3;
    centres[2 * f + 1] = positions[2 * a + 1] + (uy + vy) / 3;
    const determinant = ux * vy - uy * vx;
    if (!(determinant > 0)) {
      areas[f] = 0;
      continue;
    }
    for (let k = 0; k < 3; k++) {
      const p = normals[3 * b + k] - normals[3 * a + k];
      const q = normals[3 * c + k] - normals[3 * a + k];
      const gx = (p * vy - q * uy) / determinant;
      const gy = (q * ux - p * vx) / determinant;
      turning[3 * f] += gx * gx;
      turning[3 * f + 1] += gx * gy;
      turning[3 * f + 2] += gy * gy;
    }
  }
  return { centres, areas, turning };
}

/** Most rounds of smoothing. */
const mostRounds = 40;

/** Vertex normals averaged over about a given radius: k rounds of averaging over edges of length h reach √k·h. */
export function smoothNormals(mesh: HalfEdgeMesh, areas: F64, radiusMm: number): Float64Array {
  const { faces } = mesh;
  const edge = Math.sqrt((4 / Math.sqrt(3)) * (areas.reduce((sum, area) => sum + area, 0) / areas.length));
  const rounds = Math.min(mostRounds, Math.ceil((radiusMm / edge) * (radiusMm / edge)));
  let normals = vertexNormals(mesh);
  for (let round = 0; round < rounds; round++) {
    const next = Float64Array.from(normals);
    for (let h = 0; h < faces.length; h++) {
      const [from, to] = [3 * faces[h], 3 * faces[h % 3 === 2 ? h - 2 : h + 1]];
      for (let k = 0; k < 3; k++) {
        next[from + k] += normals[to + k] / 2;
        next[to + k] += normals[from + k] / 2;
      }
    }
    for (let v = 0; v < next.length; v += 3) {
      const length = Math.max(Math.hypot(next[v], next[v + 1], next[v + 2]), Number.MIN_VALUE);
      for (let k = 0; k < 3; k++) next[v + k] /= length;
    }
    normals = next;
  }
  return normals;
}
