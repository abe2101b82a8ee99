import { describe, expect, it } from 'vitest';
import { directionAt, findStraightField } from '../../src/draft/straight-field.ts';
import { goreHemisphere, gridPatch } from '../support/patches.ts';

const angleTo = (direction: readonly [number, number], x: number, y: number): number =>
  (Math.asin(Math.min(1, Math.abs(direction[0] * y - direction[1] * x) / Math.hypot(x, y))) * 180) / Math.PI;

describe('findStraightField', () => {
  for (const turn of [0, 20, 70])
    it(`finds the generators of a cylinder that is longer round than along, turned by ${turn}° in the plane [closed form]`, () => {
      const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
      const { patch, flat } = gridPatch({
        id: 'cylinder.1.C',
        columns: 30,
        rows: 6,
        forming: 'bent',
        space: (u, v) => [60 * Math.cos(2.5 * u), 60 * Math.sin(2.5 * u), 50 * v],
        plane: (u, v) => [c * 150 * u - s * 50 * v, s * 150 * u + c * 50 * v],
      });
      const field = findStraightField(patch.mesh, flat.positions, 6);
      expect(angleTo(field.direction, -s, c)).toBeLessThan(0.2);
      expect(field.curvature).toBeLessThan(1e-6);
      expect(field.fan).toBe(0);
    });

  it('finds the fan of a cone [closed form: generators meet in the apex]', () => {
    // Half-angle α with sin α = 0.5: the full cone is a half-disc; a third of it, from 80 to 200 mm from the apex, is a sector of 60°.
    const { patch, flat } = gridPatch({
      id: 'cone.1.C',
      columns: 30,
      rows: 12,
      forming: 'bent',
      space: (u, v) => {
        const [s, turn] = [80 + 120 * v, ((u - 0.5) * 2 * Math.PI) / 3];
        return [s * 0.5 * Math.sin(turn), s * Math.sqrt(0.75), s * 0.5 * Math.cos(turn)];
      },
      plane: (u, v) => {
        const [s, turn] = [80 + 120 * v, ((u - 0.5) * Math.PI) / 3];
        return [s * Math.sin(turn), s * Math.cos(turn)];
      },
    });
    const field = findStraightField(patch.mesh, flat.positions, 6);
    for (const [x, y] of [
      [0, 140],
      [60, 150],
      [-80, 140],
    ])
      expect(angleTo(directionAt(field, [x, y]), x, y)).toBeLessThan(2);
  });

  it('takes the short way across a gore of a sphere [contract: Fold]', () => {
    const { patches, flats } = goreHemisphere(8, 100, 'bent');
    const field = findStraightField(patches[0].mesh, flats[0].positions, 6);
    expect(angleTo(field.direction, 1, 0)).toBeLessThan(0.5);
    expect(field.fan).toBe(0);
  });
});
