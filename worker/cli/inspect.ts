/*
 * `plastron inspect MESH`: is this scan usable, and how large is it?
 */
import { inspectBody } from '../../src/body/inspect.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { readMesh } from '../../src/read/index.ts';
import { loadFile } from './load-job.ts';
import { unitOf, unitOption, upOf, upOption } from './mesh-words.ts';
import type { CliCommand } from './words.ts';
import { numbersOption, onlyPositional } from './words.ts';

export const inspectCommand: CliCommand = {
  name: 'inspect',
  positionals: 'MESH',
  summary: 'Says what is in a mesh file, what was wrong with it, how large it is, and its girths.',
  options: {
    unit: unitOption,
    up: upOption,
    girth: { type: 'string', value: 'MM,MM…', help: 'girths at these heights above the lowest point along up, mm' },
  },
  run: async (words, run) => {
    const girths = numbersOption(words, 'girth') ?? [];
    const soup = await readMesh(await loadFile(onlyPositional(words, 'MESH')), run);
    const [unit, up] = [unitOf(words), upOf(words)];
    const body = await makeBody(soup, { ...(unit === undefined ? {} : { unit }), up: up ?? 'y' }, run);
    const facts = inspectBody(soup, body, girths);
    return {
      ok: true,
      json: { plastron: 1, kind: 'inspect', ok: true, ...facts },
      text: [
        `${facts.faces} faces, ${facts.vertices} vertices, ${facts.components} ${facts.components === 1 ? 'piece' : 'pieces'}, ${facts.boundaryLoops.length} open edges`,
        `size ${facts.size.map((mm) => mm.toFixed(1)).join(' × ')} mm (one unit of the file is 1 ${facts.unit}: ${facts.unitFrom === 'guess' ? 'guessed, type your tape values to be sure' : facts.unitFrom})`,
        ...facts.defects.map((defect) => `found: ${defect.count} ${defect.code.replaceAll('-', ' ')}`),
        ...facts.repairs.map((repair) => `${repair.done ? 'done' : 'left'}: ${repair.what}`),
        ...facts.girths.map(
          (girth) => `girth at ${girth.heightMm} mm: along the skin ${girth.skinMm.toFixed(1)} mm, by tape ${girth.tapeMm.toFixed(1)} mm`,
        ),
        ...facts.findings.map((entry) => `${entry.severity}: ${entry.what} ${entry.mend} (${entry.code})`),
      ],
    };
  },
};
