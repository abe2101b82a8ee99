/*
 * Drop faces that are no surface: collapsed ones and doubles.
 */
import { finding } from '../../base/failure.ts';
import type { Finding } from '../../base/failure.ts';
import { dropCollapsed, dropDuplicates } from '../bad-faces.ts';
import type { Repair } from '../body.ts';
import type { Step } from './step.ts';

export const collapsedStep: Step = {
  name: 'degenerate',
  isDefault: true,
  mend: async (triangles) => {
    const { triangles: kept, count } = dropCollapsed(triangles);
    const repairs: Repair[] = [];
    if (count > 0)
      repairs.push({ step: 'degenerate', what: `${count} faces had two corners at one place and were dropped.`, count, done: true });
    return { triangles: kept, repairs, findings: [] };
  },
};

export const duplicatesStep: Step = {
  name: 'duplicates',
  isDefault: true,
  mend: async (triangles) => {
    const { triangles: kept, same, opposite } = dropDuplicates(triangles);
    const repairs: Repair[] = [];
    const findings: Finding[] = [];
    if (same + opposite > 0)
      repairs.push({
        step: 'duplicates',
        what: `${same + opposite} faces lay exactly on another and were dropped.`,
        count: same + opposite,
        done: true,
      });
    if (opposite > 0)
      findings.push(
        finding(
          'warning',
          'body/no-thickness',
          `${opposite} faces lay back to back on another: a sheet without thickness. One side of it was kept.`,
          { stage: 'body' },
          'Check that the kept side is the outside of the body.',
        ),
      );
    return { triangles: kept, repairs, findings };
  },
};
