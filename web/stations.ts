/*
 * The stations of the bench, in the order of the work, and the stage whose value each one shows.
 */
import type { StageName } from '../worker/protocol.ts';

export type StationName = 'body' | 'clearance' | 'draw' | 'lay-flat' | 'draft' | 'sheets' | 'print';

export interface Station {
  readonly name: StationName;
  readonly title: string;
  /** What the maker does here, in one line. */
  readonly purpose: string;
  /** Said once, until it is sent away. */
  readonly hint: string;
  readonly stage: StageName;
}

export const stations: readonly Station[] = [
  {
    name: 'body',
    title: 'Body',
    purpose: 'Is this scan usable, and is it the right size?',
    hint: 'Type one or two of your own tape measurements: Plastron says by how much the scan is off and proposes a scale.',
    stage: 'body',
  },
  {
    name: 'clearance',
    title: 'Clearance',
    purpose: 'How far from the skin will the armour sit?',
    hint: 'Count what is worn underneath, room to breathe, and the foam itself. The parts are measured in the middle of the foam.',
    stage: 'clearance',
  },
  {
    name: 'draw',
    title: 'Draw',
    purpose: 'Where do the areas end and the seams run?',
    hint: 'Paint one half with the brush; the other half follows. Then draw a seam with S by clicking points over the body.',
    stage: 'draw',
  },
  {
    name: 'lay-flat',
    title: 'Lay flat',
    purpose: 'Will each part lie flat, and where is the foam forced?',
    hint: 'Orange is where the foam must stretch, purple where it is squeezed. Pick a part and ask where a seam would help most.',
    stage: 'lay-flat',
  },
  {
    name: 'draft',
    title: 'Draft',
    purpose: 'Will the edges meet when they are glued?',
    hint: 'Each seam has its own notch code; start gluing at the notches and work between them.',
    stage: 'draft',
  },
  {
    name: 'sheets',
    title: 'Sheets',
    purpose: 'How much foam is needed, and how do the parts lie on it?',
    hint: 'List the sheets in your workshop. What does not fit is named, with what must be bought.',
    stage: 'sheets',
  },
  {
    name: 'print',
    title: 'Print and cut',
    purpose: 'Take the files, and check what the printer made of them.',
    hint: 'Print one page, measure its 100 mm square, type both sides: the files correct the printer once.',
    stage: 'sheets',
  },
];

export const stationOf = (name: StationName): Station => stations.find((station) => station.name === name) ?? stations[0];
