/*
 * The table of exporters: menu, command line, worker and the shared tests follow from it.
 */
import type { Exporter } from './exporter.ts';
import { buildSheet } from './build-sheet.ts';
import { dxf2000 } from './dxf-2000.ts';
import { dxfR12 } from './dxf-r12.ts';
import { dxfSewn } from './dxf-sewn.ts';
import { glb } from './gltf.ts';
import { hpgl } from './hpgl.ts';
import { pdf } from './pdf.ts';
import { pdfTiles } from './pdf-tiles.ts';
import { svg } from './svg.ts';
import { zip } from './zip.ts';

export const exporters: readonly Exporter[] = [svg, dxfR12, dxf2000, dxfSewn, pdf, pdfTiles, hpgl, glb, buildSheet, zip];
