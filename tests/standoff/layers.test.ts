import { describe, expect, it } from 'vitest';
import { materials } from '../../src/materials/index.ts';
import { layerDistances } from '../../src/standoff/layers.ts';
import { plainSettings } from '../support/standoff-bodies.ts';

describe('layerDistances', () => {
  const eva = (id: string): { t: number; k: number } => {
    const material = materials.find((known) => known.id === id);
    return { t: material?.thicknessMm.value ?? NaN, k: material?.neutralFactor.value ?? NaN };
  };

  it('adds clearance, padding, the layers below and the neutral share of its own thickness [issue: clearance + padding + below + k·t]', () => {
    const [six, two] = [eva('eva-6'), eva('eva-2')];
    expect(six.t).toBe(6);
    const [first, second, third] = layerDistances(
      { ...plainSettings, clearanceMm: 4, paddingMm: 3, layers: ['eva-6', 'eva-2', 'eva-6'] },
      materials,
    );
    expect(first).toBe(7 + six.k * 6);
    expect(second).toBe(13 + two.k * 2);
    expect(third).toBe(15 + six.k * 6);
  });
  it('refuses no layer and an unknown material by their codes [contract]', () => {
    expect(() => layerDistances({ ...plainSettings, layers: [] }, materials)).toThrow('standoff/no-layers');
    expect(() => layerDistances({ ...plainSettings, layers: ['tin'] }, materials)).toThrow('standoff/unknown-material');
  });
});
