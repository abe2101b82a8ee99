/*
 * Cautions that apply to this job: short, dated, with source or 'common practice'; the product's safety sheet, the workshop's rules and
 * local law come first.
 */
import type { JSX } from 'preact';
import { knownMaterial } from '../known-material.ts';
import { Card } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { job } from '../state.ts';

interface Caution {
  readonly words: string;
  readonly source: string;
}

export function CautionsCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const sheets = open.standoff.layers.flatMap((id) => knownMaterial(id, open.materials) ?? []);
  const hasFoam = sheets.some(({ family }) => family === 'foam');
  const cautions: Caution[] = [
    {
      words: 'Contact cement gives off solvents that burn and harm: moving air, no flame, no heat gun near open or drying cement.',
      source: 'common practice; see its safety sheet',
    },
    { words: 'Blades: cut away from the hand, change dull ones; several light passes in thick sheet.', source: 'common practice' },
    { words: 'Sanding dust: mask and extraction.', source: 'common practice' },
    { words: 'Cyanoacrylate glues skin at once and hardens hot on cloth.', source: 'common practice; see its safety sheet' },
    ...(hasFoam ? [{ words: 'Heat foam only until it bends; smoke or a sharp smell means too hot.', source: 'common practice' }] : []),
    ...(open.output.tool === 'laser'
      ? sheets.map((sheet) => ({
          words: `${sheet.name}, laser: ${sheet.laserReason}`,
          source: sheet.laser === 'refused' ? 'refused' : 'ask the operator',
        }))
      : []),
  ];
  return (
    <Card title="What could hurt you">
      <ul class="cautions">
        {cautions.map(({ words, source }) => (
          <li key={words}>
            <Icon name="warning" />
            <span>
              {words} <small>{source}</small>
            </span>
          </li>
        ))}
      </ul>
      <p class="small">
        Costume armour is not protective equipment. Safety sheets, the workshop’s rules and local law come first. Written {open.date}.
      </p>
    </Card>
  );
}
