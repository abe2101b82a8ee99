/*
 * Acts that mend a finding, where one press can do it. Everything else is said in words by the finding itself.
 */
import type { Finding } from '../src/base/failure.ts';
import { act, chooseFile, engine, replaceBody } from './desk.ts';
import { body, cut, dialog, selection, shownMaterial, station } from './state.ts';
import { askSuggestion } from './suggest.ts';
import { takeTool } from './take-tool.ts';

export interface MendAct {
  readonly title: string;
  readonly run: () => void;
}

const chooseAnother = async (): Promise<void> => {
  const file = await chooseFile('.obj,.glb,.gltf,.ply,.stl');
  if (file) await replaceBody(file);
};

/** The most telling rule first. */
const rules: readonly (readonly [RegExp, (finding: Finding) => MendAct | undefined])[] = [
  [/^body\/guessed-unit|^units\/|unit/, () => ({ title: 'It is right', run: () => keepUnit() })],
  [/hole|boundary/, () => ({ title: 'Close the holes', run: () => mendStep('fill-holes') })],
  [/not-a-disc|not-disc|missing-cut|closed/, () => ({ title: 'Draw a seam', run: () => takeTool('line') })],
  [/^read\//, () => ({ title: 'Choose another scan', run: () => void chooseAnother() })],
  [
    /needs-seam|strain|stretch|beyond/,
    (finding) => {
      const part = cut.value?.patches.find(({ id }) => id === finding.where.item)?.id;
      return part === undefined ? undefined : { title: 'Suggest a seam', run: () => suggestFor(part) };
    },
  ],
  [/^nest\//, () => ({ title: 'Add a sheet', run: () => (station.value = 'sheets') })],
  [/^materials\/|coupon/, (finding) => ({ title: 'Open the material', run: () => openMaterial(finding.where.item) })],
  [/^run\/|^worker\//, () => ({ title: 'Try again', run: () => engine.run() })],
];

export function mendFor(finding: Finding): MendAct | undefined {
  for (const [shape, make] of rules) if (shape.test(finding.code)) return make(finding);
  return undefined;
}

function keepUnit(): void {
  const unit = body.value?.unit;
  if (unit) act({ kind: 'set-scale', args: { unit, factor: 1 } });
}

function mendStep(step: string): void {
  act({ kind: 'set-mend-step', args: { step: { step, accept: true } } });
}

function suggestFor(part: string): void {
  station.value = 'lay-flat';
  selection.value = { kind: 'part', id: part };
  void askSuggestion(part);
}

function openMaterial(id: string | undefined): void {
  if (id !== undefined) shownMaterial.value = id;
  station.value = 'clearance';
  dialog.value = 'material';
}
