/*
 * The table of exporters: menu, command line, worker and the shared tests follow from it.
 */
import type { Exporter } from './exporter.ts';
import { dxfR12 } from './dxf-r12.ts';
import { svg } from './svg.ts';

export const exporters: readonly Exporter[] = [svg, dxfR12];
