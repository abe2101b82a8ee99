import { describe, expect, it } from 'vitest';
import { exporters } from '../../src/export/index.ts';
import { handInput, handOptions } from '../support/drawings.ts';

describe('exporters', () => {
  it('name each format once', () => {
    expect(new Set(exporters.map(({ format }) => format)).size).toBe(exporters.length);
  });
  it.each(exporters.map((exporter) => [exporter.format, exporter] as const))(
    '%s: the same bytes twice, paths below out/, input untouched [invariant]',
    async (_format, exporter) => {
      const input = handInput();
      const before = JSON.stringify(input);
      const first = await exporter.write(input, handOptions);
      const second = await exporter.write(handInput(), handOptions);
      expect(first.length).toBeGreaterThan(0);
      expect(first.map(({ path }) => path)).toEqual(second.map(({ path }) => path));
      for (const [k, file] of first.entries()) {
        expect(file.path).toMatch(/^[a-z0-9./-]+$/);
        expect(Array.from(file.bytes as Uint8Array)).toEqual(Array.from(second[k].bytes as Uint8Array));
      }
      expect(JSON.stringify(input)).toBe(before);
    },
  );
});
