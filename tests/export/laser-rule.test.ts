import { describe, expect, it } from 'vitest';
import { cutSheets, laserWarnings, refusedSheets } from '../../src/export/laser-rule.ts';
import { exporters } from '../../src/export/index.ts';
import { materials } from '../../src/materials/index.ts';
import type { Material } from '../../src/materials/material.ts';
import { handInput, handMaterial, handOptions, handSheet, place, squarePart } from '../support/drawings.ts';

const inputOf = (list: readonly Material[], sheetMaterial: string): ReturnType<typeof handInput> => {
  const drawn = handInput({ parts: [squarePart()], sheets: [handSheet([place('square.1.C', 0, 0)])] });
  return {
    ...drawn,
    materials: list,
    sheetDrawings: drawn.sheetDrawings.map((entry) => ({ ...entry, sheet: { ...entry.sheet, material: sheetMaterial } })),
  };
};

describe('refusedSheets', () => {
  it('refuses PVC and neoprene by name even where the entry allows them: there is no override [trade.md: laser-hazards]', () => {
    for (const name of ['PVC sheet 3 mm', 'Expanded pvc', 'Neoprene foam', 'marine vinyl', 'Polyvinyl chloride']) {
      const [refusal] = refusedSheets(inputOf([handMaterial({ id: 'own', name, laser: 'allowed' })], 'own'), 'laser');
      expect(refusal.code).toBe('export/laser-refused');
      expect(refusal.what).toContain('hydrogen chloride');
    }
  });
  it('does not take the V in EVA for vinyl chloride', () => {
    expect(refusedSheets(inputOf([handMaterial({ id: 'own', name: 'Ethylene vinyl acetate', laser: 'ask' })], 'own'), 'laser')).toEqual([]);
  });
  it('refuses a material that nobody knows, and what its own rule refuses', () => {
    expect(refusedSheets(inputOf([], 'found-in-the-attic'), 'laser')[0].what).toContain('nobody knows');
    expect(refusedSheets(inputOf([handMaterial({ laser: 'refused', laserReason: 'Chromium.' })], 'eva-6'), 'laser')[0].what).toContain(
      'Chromium.',
    );
  });
  it('has nothing against a knife', () => {
    expect(refusedSheets(inputOf([handMaterial({ name: 'PVC' })], 'eva-6'), 'knife')).toEqual([]);
  });
  it('refuses every entry of the table that says so, and no other [invariant]', () => {
    for (const material of materials)
      expect(refusedSheets(inputOf(materials, material.id), 'laser').length).toBe(material.laser === 'refused' ? 1 : 0);
  });
});

describe('cutSheets', () => {
  it('lets sound sheets leave and throws when none is left', async () => {
    const input = handInput();
    const pvc = handMaterial({ id: 'pvc', name: 'PVC 3 mm' });
    const two = {
      ...input,
      materials: [...input.materials, pvc],
      sheetDrawings: [
        ...input.sheetDrawings,
        ...input.sheetDrawings.map((entry) => ({ ...entry, sheet: { ...entry.sheet, id: 'sheet-2', material: 'pvc' } })),
      ],
    };
    expect(cutSheets(two, { tool: 'laser' }).map(({ sheet }) => sheet.id)).toEqual(['sheet-1']);
    expect(cutSheets(two, { tool: 'hand' }).length).toBe(2);
    const onlyPvc = { ...two, parts: two.parts.map((part) => ({ ...part, material: 'pvc' })), sheetDrawings: two.sheetDrawings.slice(1) };
    expect(() => cutSheets(onlyPvc, { tool: 'laser' })).toThrow(/export\/laser-refused/);
    const cutting = new Set(['svg', 'dxf-r12', 'dxf-2000', 'dxf-sewn', 'pdf', 'pdf-tiles', 'hpgl']);
    for (const exporter of exporters.filter(({ format }) => cutting.has(format)))
      await expect(exporter.write(onlyPvc, { ...handOptions, tool: 'laser' })).rejects.toThrow(/export\/laser-refused/);
  });
});

describe('laserWarnings', () => {
  it('warns once for a material that needs asking, and only for a laser', () => {
    expect(laserWarnings(handInput(), 'laser').map(({ code }) => code)).toEqual(['export/laser-ask']);
    expect(laserWarnings(handInput(), 'hand')).toEqual([]);
  });
});
