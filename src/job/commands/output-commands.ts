/*
 * Everything after the drawing: flattening method, drafting, stock, files, materials; and the job's own name.
 */
import type { DraftSettings, SideDraft } from '../../draft/settings.ts';
import type { Material } from '../../materials/material.ts';
import type { NestSettings, Stock } from '../../nest/settings.ts';
import type { Job, JobOutput } from '../job.ts';
import { command, replaceAt, withoutAt } from './command.ts';

const withStock = (job: Job, stock: readonly Stock[]): Job => ({ ...job, sheets: { ...job.sheets, stock } });

export const outputCommands = {
  'rename-job': command<{ readonly name: string }>({
    title: ({ name }) => `Name the job ${name}`,
    apply: (job, { name }) => ({ ...job, name }),
  }),
  'set-method': command<{ readonly method: Job['flats']['method'] }>({
    title: ({ method }) => `Lay flat by ${method}`,
    apply: (job, { method }) => ({ ...job, flats: { method } }),
  }),
  'set-draft': command<{ readonly change: Partial<Omit<DraftSettings, 'sides'>> }>({
    title: ({ change }) => `Set ${Object.keys(change).join(', ')} of the draft`,
    apply: (job, { change }) => ({ ...job, draft: { ...job.draft, ...change } }),
  }),
  'set-side': command<{ readonly side: SideDraft }>({
    title: ({ side }) => `Set the edge of ${side.area} at ${side.line}`,
    apply: (job, { side }) => {
      const others = job.draft.sides.filter((old) => old.area !== side.area || old.line !== side.line);
      return { ...job, draft: { ...job.draft, sides: [...others, side] } };
    },
  }),
  'add-stock': command<{ readonly stock: Stock }>({
    title: ({ stock }) => `Add stock ${stock.name}`,
    apply: (job, { stock }) => withStock(job, [...job.sheets.stock, stock]),
  }),
  'change-stock': command<{ readonly index: number; readonly change: Partial<Stock> }>({
    title: () => 'Change stock',
    apply: (job, { index, change }) =>
      withStock(
        job,
        replaceAt(job.sheets.stock, index, (old) => ({ ...old, ...change }), 'stock'),
      ),
  }),
  'remove-stock': command<{ readonly index: number }>({
    title: () => 'Remove stock',
    apply: (job, { index }) => withStock(job, withoutAt(job.sheets.stock, index, 'stock')),
  }),
  'set-sheets': command<{ readonly change: Partial<Omit<NestSettings, 'stock'>> }>({
    title: ({ change }) => `Set ${Object.keys(change).join(', ')} of the sheets`,
    apply: (job, { change }) => ({ ...job, sheets: { ...job.sheets, ...change } }),
  }),
  'set-output': command<{ readonly change: Partial<JobOutput> }>({
    title: ({ change }) => `Set ${Object.keys(change).join(', ')} of the files`,
    apply: (job, { change }) => ({ ...job, output: { ...job.output, ...change } }),
  }),
  'set-material': command<{ readonly material: Material }>({
    title: ({ material }) => `Set material ${material.name}`,
    apply: (job, { material }) => ({ ...job, materials: [...job.materials.filter((old) => old.id !== material.id), material] }),
  }),
  'remove-material': command<{ readonly id: string }>({
    title: ({ id }) => `Back to the table's ${id}`,
    apply: (job, { id }) => ({ ...job, materials: job.materials.filter((old) => old.id !== id) }),
  }),
};
