/*
 * `plastron make JOB`: all files of a job, the same bytes as the page makes.
 */
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { FormatName } from '../../src/export/exporter.ts';
import { runJob } from '../../src/pipeline.ts';
import type { Report } from '../../src/report.ts';
import type { WrittenFiles } from '../../src/write-files.ts';
import { formatNames, writeFiles } from '../../src/write-files.ts';
import { loadJob } from './load-job.ts';
import type { CliCommand } from './words.ts';
import { onlyPositional, textOption, WrongWords } from './words.ts';

export const makeCommand: CliCommand = {
  name: 'make',
  positionals: 'JOB',
  summary: 'Makes all files of a job: a job.json, the folder that holds one, or a .plastron file.',
  options: {
    out: { type: 'string', value: 'DIR', help: 'folder for the files (default: out beside the job)' },
    formats: { type: 'string', value: 'LIST', help: `comma-separated: ${formatNames.join(', ')} (default: as in the job)` },
  },
  run: async (words, run) => {
    const loaded = await loadJob(onlyPositional(words, 'JOB'));
    const formats = wantedFormats(textOption(words, 'formats'));
    const results = await runJob(loaded.job, loaded.file, run);
    const withLoading = { ...results, findings: [...loaded.findings, ...results.findings] };
    const written = await writeFiles(loaded.job, loaded.file, withLoading, run, formats ?? loaded.job.output.formats);
    const out = textOption(words, 'out') ?? join(loaded.folder, 'out');
    await saveAll(out, written);
    return {
      ok: written.report.ok,
      json: written.report,
      text: [...partsTable(written.report), `${written.files.length} files in ${out}`],
    };
  },
};

function wantedFormats(list: string | undefined): FormatName[] | undefined {
  return list?.split(',').map((word) => {
    const known = formatNames.find((name) => name === word.trim());
    if (known === undefined) throw new WrongWords(`--formats knows ${formatNames.join(', ')}, not "${word}"`);
    return known;
  });
}

/** Writes beside the target and renames, so that a stopped run leaves no half file. */
async function saveAll(out: string, written: WrittenFiles): Promise<void> {
  for (const file of written.files) {
    const path = join(out, ...file.path.split('/'));
    await mkdir(dirname(path), { recursive: true });
    const temporary = `${path}.part`;
    try {
      await writeFile(temporary, file.bytes as Uint8Array);
      await rename(temporary, path);
    } catch (error) {
      await rm(temporary, { force: true });
      throw error;
    }
  }
}

/** The parts as the terminal shows them: one line a part, lengths and shares with their unit. */
export function partsTable(report: Report): string[] {
  const percent = (ratio: number): string => `${(100 * ratio).toFixed(1)} %`;
  const words = { cold: 'bends cold', hot: 'needs heat', 'needs-seam': 'needs a seam' } as const;
  const rows = report.parts.map((part) => [
    part.letter,
    part.name === '' ? part.id : part.name,
    part.side,
    `${Math.round(part.areaMm2 / 100)} cm²`,
    percent(part.strain.stretch.p95),
    percent(part.strain.stretch.max),
    percent(part.strain.squeeze.p95),
    words[part.verdict],
    `${part.flips}/${part.overlaps}`,
  ]);
  const head = ['', 'Part', 'Side', 'Area', 'most of it', 'worst', 'squeezed', 'The foam', 'flips/overlaps'];
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map((row) => row[i].length)));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, i) => (i >= 3 && i !== 7 ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
      .join('  ')
      .trimEnd();
  const severe = report.findings.filter((entry) => entry.severity !== 'note');
  return [line(head), ...rows.map(line), '', ...severe.map((entry) => `${entry.severity}: ${entry.what} ${entry.mend} (${entry.code})`)];
}
