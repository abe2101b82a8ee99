/*
 * Print and cut: the tool, the files, the check of the printer, and what could hurt you.
 */
import { useState } from 'preact/hooks';
import type { JSX } from 'preact';
import type { FormatName, OutputFile } from '../../src/export/exporter.ts';
import { papers } from '../../src/export/papers.ts';
import type { JobOutput } from '../../src/job/job.ts';
import { act, engine } from '../desk.ts';
import { Card, ChoiceRow, SelectField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { NumberField } from '../fields/number-field.tsx';
import { lengthFine, showBytes } from '../fields/quantity.ts';
import { saveBytes } from '../save-bytes.ts';
import { files, job } from '../state.ts';
import { sayFailure } from '../toast.ts';
import { CautionsCard } from './cautions-card.tsx';

const formatWords: Readonly<Record<FormatName, readonly [string, string]>> = {
  svg: ['SVG', 'drawing of each sheet, true millimetres'],
  'dxf-r12': ['DXF, Release 12', 'for cutters and old programs'],
  'dxf-2000': ['DXF 2000', 'with true curves'],
  'dxf-sewn': ['DXF for sewn products', 'all parts by layers of ASTM D6673'],
  pdf: ['PDF, one page a sheet', 'for wide printers'],
  'pdf-tiles': ['PDF on your paper', 'tiled, true size, with a test square'],
  hpgl: ['HPGL', 'for cutting plotters'],
  glb: ['GLB', 'body with its marks, and the parts, in 3D'],
  'build-sheet': ['Build sheet', 'parts, gluing order, bevels, cautions'],
  zip: ['Everything in one zip', 'with the job itself'],
};

const formats = Object.keys(formatWords) as FormatName[];
const set = (change: Partial<JobOutput>): void => void act({ kind: 'set-output', args: { change } });

export function PrintPanel(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const { tool, paper } = open.output;
  return (
    <>
      <Card title="Cut with">
        <ChoiceRow
          label="Cut with"
          value={tool}
          choices={[
            { value: 'hand', title: 'Hand knife' },
            { value: 'knife', title: 'Knife plotter' },
            { value: 'laser', title: 'Laser' },
          ]}
          onChange={(next) => set({ tool: next })}
        />
        <SelectField
          label="Printed on"
          value={paper}
          choices={(Object.keys(papers) as (keyof typeof papers)[]).map((value) => ({ value, title: papers[value].title }))}
          onChange={(next) => set({ paper: next })}
        />
      </Card>
      <FilesCard />
      <PrintCheckCard />
      <CautionsCard />
    </>
  );
}

function FilesCard(): JSX.Element | null {
  const [isBusy, setBusy] = useState(false);
  const [refused, setRefused] = useState<readonly { readonly format: string; readonly what: string }[]>([]);
  const open = job.value;
  if (!open) return null;
  const wanted = open.output.formats;
  async function make(): Promise<void> {
    setBusy(true);
    try {
      const answer = await engine.files(wanted);
      files.value = answer.files;
      setRefused(answer.report.output.refused);
    } catch (error) {
      sayFailure(error);
    } finally {
      setBusy(false);
    }
  }
  return (
    <Card
      title="Files"
      action={
        <button type="button" class="act" disabled={isBusy || wanted.length === 0} onClick={() => void make()}>
          {isBusy ? 'Making them …' : 'Make the files'}
        </button>
      }
    >
      <ul class="formats">
        {formats.map((format) => (
          <li key={format}>
            <label>
              <input
                type="checkbox"
                checked={wanted.includes(format)}
                onChange={(event) =>
                  set({ formats: event.currentTarget.checked ? [...wanted, format] : wanted.filter((known) => known !== format) })
                }
              />
              <span>
                {formatWords[format][0]} <small>{formatWords[format][1]}</small>
              </span>
            </label>
          </li>
        ))}
      </ul>
      {refused.map(({ format, what }) => (
        <p key={format} class="wrong">
          {formatWords[format as FormatName][0]}: {what}
        </p>
      ))}
      {files.value && <FileList made={files.value} />}
    </Card>
  );
}

const kindWords = (file: OutputFile): string => (file.format === 'report' ? 'all figures' : formatWords[file.format][0]);

function FileList({ made }: { readonly made: readonly OutputFile[] }): JSX.Element {
  const save = (file: OutputFile): void => saveBytes(file.path.replace(/^.*\//, ''), file.mediaType, file.bytes);
  return (
    <div class="made">
      <div class="row">
        <strong>{made.length} files</strong>
        <button type="button" onClick={() => made.forEach(save)}>
          Save all
        </button>
      </div>
      <ul class="file-list">
        {made.map((file) => (
          <li key={file.path}>
            <button type="button" class="link" onClick={() => save(file)}>
              <Icon name="file" /> {file.path}
            </button>
            <small>
              {kindWords(file)} · {showBytes(file.bytes.length)}
            </small>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The printed test square, measured: the correction is made once, in printed files only. */
function PrintCheckCard(): JSX.Element | null {
  const open = job.value;
  if (!open) return null;
  const [x, y] = open.output.printFactor;
  const off = Math.max(Math.abs(x - 1), Math.abs(y - 1));
  return (
    <Card title="Print check">
      <p>Print one page without scaling and measure its 100&#8239;mm square.</p>
      <div class="pair">
        <NumberField
          label="Wide"
          value={100 * x}
          quantity={lengthFine}
          min={80}
          max={120}
          onChange={(mm) => set({ printFactor: [mm / 100, y] })}
        />
        <NumberField
          label="High"
          value={100 * y}
          quantity={lengthFine}
          min={80}
          max={120}
          onChange={(mm) => set({ printFactor: [x, mm / 100] })}
        />
      </div>
      <p class="small">
        {off < 0.0005
          ? 'The printer is taken to be true.'
          : `Printed files are corrected by ×${(1 / x).toFixed(4)} and ×${(1 / y).toFixed(4)}; files for machines are not.`}
      </p>
    </Card>
  );
}
