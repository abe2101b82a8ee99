/*
 * The order of mending. Each step takes triangles and gives triangles, an account in numbers, and findings; the maker can refuse any of them
 * in the job's `mend` list. A step that finds nothing to do leaves no trace.
 */
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { mendSteps } from './steps/index.ts';
import type { Axis, Repair } from './body.ts';
import type { MendStep } from './settings.ts';
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';

export interface Mended {
  readonly triangles: Triangles;
  readonly repairs: readonly Repair[];
  readonly findings: readonly Finding[];
}

/** Runs all steps in order. */
export async function mendTriangles(
  triangles: Triangles,
  settings: { readonly mend: readonly MendStep[]; readonly up: Axis; readonly front: Axis },
  run: Run,
): Promise<Mended> {
  const repairs: Repair[] = [];
  const findings: Finding[] = [];
  let current = triangles;
  for (const [i, step] of mendSteps.entries()) {
    const asked = settings.mend.filter((entry) => entry.step === step.name);
    const isRefused = asked.some((entry) => !entry.accept);
    const wanted = asked.filter((entry) => entry.accept);
    if (wanted.length === 0 && !isRefused && !step.isDefault) continue;
    const result = await step.mend(current, { asked: wanted, isRefused, up: settings.up, front: settings.front }, run);
    if (!isRefused) current = result.triangles;
    repairs.push(...result.repairs.map((repair) => ({ ...repair, done: !isRefused && repair.done })));
    findings.push(...result.findings);
    run.report('body', (i + 1) / (mendSteps.length + 1));
    await run.breathe();
  }
  // Whatever was refused, no vertex without a face goes on.
  return { triangles: compactTriangles(current), repairs, findings };
}
