/* Also its pieces: build-content.ts, build-sheet-html.ts, build-sheet-pdf.ts, page-flow.ts, body-pictures.ts, part-picture.ts, safety.ts. */
import { describe, expect, it } from 'vitest';
import type { DraftedSeam } from '../../src/draft/drafted-part.ts';
import { bodyPictures } from '../../src/export/body-pictures.ts';
import { buildContent } from '../../src/export/build-content.ts';
import { buildSheet } from '../../src/export/build-sheet.ts';
import { createFlow } from '../../src/export/page-flow.ts';
import { partPicture } from '../../src/export/part-picture.ts';
import { createPdf } from '../../src/export/pdf-writer.ts';
import { cautionsFor, notProtective } from '../../src/export/safety.ts';
import { distanceToPolyline } from '../../src/plane/polyline.ts';
import { handInput, handMaterial, handOptions, leafPart } from '../support/drawings.ts';

const seam: DraftedSeam = {
  id: 'S1',
  kind: 'seam',
  line: 'split',
  sides: ['A1', 'B1'],
  parts: ['breast.1.L', 'breast.1.R'],
  lengthsMm: [91.24, 91.3],
  differenceMm: -0.06,
  surfaceMm: 91,
  bevelDeg: { min: 4, max: 12 },
  code: '2-1',
  stretchesMm: [],
  refused: false,
};
const input = handInput({ seams: [seam] });

describe('buildContent', () => {
  const content = buildContent(input, handOptions);
  it('has a row for every part and every seam, with lengths and difference', () => {
    expect(content.parts.map(({ part }) => part.id)).toEqual(input.parts.map(({ id }) => id));
    expect(content.seams[0]).toMatchObject({
      sides: 'A1 to B1',
      lengths: '91.2 / 91.3',
      difference: '-0.06',
      notches: '2-1',
      bevel: 'square',
    });
  });
  it('letters a bevel only where a part has one', () => {
    const bevel = { side: 'A1', seam: 'S1', fromMm: 0, toMm: 91, leastDeg: 4, mostDeg: 12, loses: 'inner' } as const;
    const parts = input.parts.map((part, k) => (k === 0 ? { ...part, bevels: [bevel] } : part));
    const bevelled = buildContent({ ...input, parts }, handOptions);
    expect(bevelled.seams[0].bevel).toBe('4 to 12°');
    expect(bevelled.parts[0].facts.join()).toContain('A1: bevel 4 to 12° from 0 to 91 mm, inner face loses foam');
  });
  it('lists the bevels of a laser for sanding, and only of a laser [issue 6: a laser cuts square]', async () => {
    const bevel = { side: 'A1', seam: 'S1', fromMm: 0, toMm: 91, leastDeg: 4, mostDeg: 12, loses: 'inner' } as const;
    const parts = input.parts.map((part, k) => (k === 0 ? { ...part, bevels: [bevel] } : part));
    expect(buildContent({ ...input, parts }, handOptions).sanding).toEqual([]);
    const laser = { ...handOptions, tool: 'laser' } as const;
    const line = 'A1: sand to 4 to 12° from 0 to 91 mm, inner face loses foam';
    expect(buildContent({ ...input, parts }, laser).sanding).toEqual([line]);
    const [, html] = await buildSheet.write({ ...input, parts }, laser);
    expect(new TextDecoder().decode(Uint8Array.from(html.bytes as Uint8Array))).toContain(`<li>${line}</li>`);
  });
  it('marks a refused seam in its row [contract: Seams meet]', () => {
    const refused = buildContent({ ...input, seams: [{ ...seam, differenceMm: 4.2, refused: true }] }, handOptions);
    expect(refused.seams[0].difference).toBe('4.20 refused');
  });
  it('weighs the parts and measures the cement [closed form: area·t·density, 2 edges·t]', () => {
    const area = input.parts.reduce((sum, part) => sum + part.areaMm2, 0);
    const weight = content.shopping.find(({ what }) => what.startsWith('Weight'));
    expect(weight?.amount).toBe(`${((area * 6 * 120) / 1e6).toFixed(0)} g`);
    expect(content.shopping.find(({ what }) => what === 'Contact cement')?.amount).toBe(`${(((91.24 + 91.3) * 6) / 100).toFixed(0)} cm²`);
    expect(content.shopping[0]).toMatchObject({ amount: '1', what: 'EVA foam 6 mm, tile 600 × 600 mm' });
  });
});

describe('cautionsFor', () => {
  it('speaks of what the job uses, each with a source', () => {
    const titles = (tool: 'hand' | 'laser', hot: boolean): string[] => cautionsFor([handMaterial()], tool, hot).map(({ title }) => title);
    expect(titles('hand', false)).toContain('Knives');
    expect(titles('hand', false)).not.toContain('Heat gun');
    expect(titles('laser', true)).toEqual(expect.arrayContaining(['Laser', 'Heat gun']));
    for (const { source, text } of cautionsFor([handMaterial({ family: 'leather' })], 'laser', true))
      expect(source.length * text.length).toBeGreaterThan(100);
  });
});

describe('buildSheet', () => {
  it('writes PDF and page, both with the warning that it protects from nothing', async () => {
    const [pdf, html] = await buildSheet.write(input, handOptions);
    expect([pdf.path, html.path]).toEqual(['build-sheet.pdf', 'build-sheet.html']);
    const text = new TextDecoder().decode(Uint8Array.from(html.bytes as Uint8Array));
    expect(text).toContain(notProtective);
    expect(text).toContain('A1 to B1');
    for (const part of input.parts) expect(text).toContain(part.name);
  });
  it('fetches nothing: no script, no address but of pictures within [product: a body scan is private]', async () => {
    const [, html] = await buildSheet.write(input, handOptions);
    const text = new TextDecoder().decode(Uint8Array.from(html.bytes as Uint8Array));
    expect(text).not.toMatch(/<script|<link|https?:|@import|url\(/);
    expect([...text.matchAll(/src="([^"]{0,22})/g)].every((found) => found[1] === 'data:image/png;base64,')).toBe(true);
  });
});

describe('bodyPictures', () => {
  it('draws every part, pairs in one colour', () => {
    const paired = { ...input, parts: input.parts.map((part) => (part.id === 'breast.1.R' ? { ...part, pair: 'breast.1.L' } : part)) };
    const pictures = bodyPictures(paired);
    expect([...pictures.ofPart.keys()]).toEqual(input.parts.map(({ id }) => id));
    expect(pictures.colorOfPart.get('breast.1.R')).toBe(pictures.colorOfPart.get('breast.1.L'));
    expect(pictures.whole.map(({ title }) => title)).toEqual(['From the front', 'From behind']);
  });
});

describe('partPicture', () => {
  it('names edges clear of the cut line, and leaves the letters out', () => {
    const { paths, edges } = partPicture(leafPart(), 4);
    expect(paths.some(({ layer }) => layer === 'TEXT')).toBe(false);
    expect(edges.map(({ name }) => name)).toEqual(['A1']);
    expect(distanceToPolyline(leafPart().outline, true, edges[0].at[0], edges[0].at[1])).toBeGreaterThanOrEqual(4);
  });
  it('gives an edge shorter than its name none', () => {
    expect(partPicture(leafPart(), Infinity).edges).toEqual([]);
  });
});

describe('createFlow', () => {
  it('goes on to the next page when one is full, and numbers them', () => {
    const pdf = createPdf({ title: 't', date: '2026-11-25' });
    const flow = createFlow(pdf, { widthMm: 210, heightMm: 297 }, 'Job');
    for (let k = 0; k < 100; k++) flow.text('One line.');
    flow.finish();
    const pages = Buffer.from(pdf.finish())
      .toString('latin1')
      .match(/\/Type \/Page /g)?.length;
    // 100 lines of 3.6·1.35 mm in pages of 297 − 14 − 22 mm: 53 a page.
    expect(pages).toBe(2);
  });
});
