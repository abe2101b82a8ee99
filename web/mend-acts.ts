/*
 * Acts that mend a finding, where one press can do it. Everything else is said in words by the finding itself.
 */
import type { Finding } from '../src/base/failure.ts';
import { act, chooseFile, engine, replaceBody } from './desk.ts';
import { body, coloursBy, cut, dialog, selection, shownMaterial, station } from './state.ts';
import { takeTool } from './take-tool.ts';

export interface MendAct {
  readonly title: string;
  readonly run: () => void;
}

const chooseAnother = async (): Promise<void> => {
  const file = await chooseFile('.obj,.glb,.gltf,.ply,.stl');
  if (file) await replaceBody(file);
};

const partOf = (finding: Finding): string | undefined => cut.value?.patches.find(({ id }) => id === finding.where.item)?.id;

/** By code; a code that is not here has no one-press cure. */
const cures: Readonly<Record<string, (finding: Finding) => MendAct>> = {
  'body/guessed-unit': () => ({ title: 'The unit is right', run: keepUnit }),
  'body/guessed-axes': () => ({ title: 'Up and front are right', run: keepAxes }),
  'body/holes': () => ({ title: 'Close the holes', run: () => askStep('fill-holes') }),
  'body/floor': () => ({ title: 'Cut the floor off', run: () => askStep('floor') }),
  'body/girth-cuts-arm': () => ({ title: 'Take the arms off', run: () => askStep('cut-arms') }),
  'body/too-fine-to-smooth': () => ({ title: 'Less scan detail', run: () => askStep('simplify') }),
  'body/no-arms': () => ({ title: 'Cut by a plane', run: () => takeTool('plane') }),
  'marks/far-from-body': () => ({ title: 'Move its points', run: () => takeTool('point') }),
  'flatten/closed': () => ({ title: 'Draw a seam', run: () => takeTool('line') }),
  'flatten/has-handle': () => ({ title: 'Draw a seam', run: () => takeTool('line') }),
  'flatten/needs-seam': (finding) => ({ title: 'Draw a seam', run: () => drawSeamFor(partOf(finding)) }),
  'nest/does-not-fit': () => ({ title: 'See the sheets', run: () => (station.value = 'sheets') }),
  'nest/out-of-stock': () => ({ title: 'See the sheets', run: () => (station.value = 'sheets') }),
  'materials/unknown': (finding) => ({ title: 'Choose a material', run: () => openMaterial(finding.where.item) }),
  'standoff/ease-without-girth': () => ({ title: 'See the ease', run: () => (station.value = 'clearance') }),
};

export function mendFor(finding: Finding): MendAct | undefined {
  if (finding.code.startsWith('read/')) return { title: 'Choose another scan', run: () => void chooseAnother() };
  if (/^(run|worker)\//.test(finding.code)) return { title: 'Try again', run: () => engine.run() };
  return Object.hasOwn(cures, finding.code) ? cures[finding.code](finding) : undefined;
}

function keepUnit(): void {
  const unit = body.value?.unit;
  if (unit) act({ kind: 'set-scale', args: { unit, factor: 1 } });
}

function keepAxes(): void {
  if (body.value) act({ kind: 'set-body', args: { change: { up: body.value.up, front: body.value.front } } });
}

function askStep(step: string): void {
  station.value = 'body';
  act({ kind: 'set-mend-step', args: { step: { step, accept: true } } });
}

/** The strain and the line tool together: the maker draws where it is worst. */
function drawSeamFor(part: string | undefined): void {
  if (part !== undefined) selection.value = { kind: 'part', id: part };
  takeTool('line');
  coloursBy.value = 'strain';
}

function openMaterial(id: string | undefined): void {
  if (id !== undefined) shownMaterial.value = id;
  station.value = 'clearance';
  dialog.value = 'material';
}
