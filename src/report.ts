/*
 * report.json (contract), which `make --json` prints too: its shape, and how it is made from the results of a walk.
 */
import type { F64 } from './base/arrays.ts';
import { plainBytes } from './base/arrays.ts';
import type { Finding } from './base/failure.ts';
import { sha256 } from './base/hash.ts';
import type { DraftedPart } from './draft/drafted-part.ts';
import type { CorrectionRow } from './export/corrections.ts';
import { correctionRows } from './export/corrections.ts';
import type { OutputFile } from './export/exporter.ts';
import type { Distribution } from './flatten/flat-part.ts';
import type { Job } from './job/job.ts';
import { jobText } from './job/schema.ts';
import { bounds } from './mesh/measure.ts';
import type { JobResults } from './pipeline.ts';

export interface Report {
  readonly plastron: 1;
  readonly kind: 'report';
  readonly ok: boolean;
  readonly job: { readonly name: string; readonly sha256: string };
  readonly body: {
    readonly unit: string;
    readonly faces: number;
    readonly sizeMm: readonly number[];
    readonly scale: number;
    readonly measures: readonly {
      readonly name: string;
      readonly kind: string;
      readonly tapeMm: number;
      readonly meshMm: number;
      readonly differenceMm: number;
      readonly allowedMm: number;
    }[];
  };
  readonly standoff: readonly {
    readonly layer: number;
    readonly material: string;
    readonly distanceMm: number;
    readonly girths: readonly { readonly name: string; readonly bodyMm: number; readonly surfaceMm: number }[];
  }[];
  readonly marks: {
    readonly areas: readonly { readonly id: string; readonly areaMm2: number }[];
    readonly lines: readonly { readonly id: string; readonly kind: string; readonly lengthMm: number }[];
  };
  readonly parts: readonly ReportPart[];
  readonly seams: readonly {
    readonly id: string;
    readonly kind: string;
    readonly line: string;
    readonly sides: readonly [string, string];
    readonly lengthsMm: readonly [number, number];
    readonly differenceMm: number;
    readonly surfaceMm: number;
    readonly bevelDeg: { readonly min: number; readonly max: number };
    readonly code: string;
    /** The sides differ by more than the seam rule allows and no ease is declared. */
    readonly refused: boolean;
  }[];
  readonly sheets: readonly {
    readonly id: string;
    readonly stock: string;
    readonly material: string;
    readonly widthMm: number;
    readonly heightMm: number;
    readonly use: number;
    readonly placements: readonly {
      readonly part: string;
      readonly xMm: number;
      readonly yMm: number;
      readonly angleDeg: number;
      readonly mirrored: boolean;
    }[];
  }[];
  readonly unplaced: readonly string[];
  readonly output: {
    readonly files: readonly { readonly path: string; readonly format: string; readonly sheet?: string; readonly sha256: string }[];
    /** A format that was not written, or of which the named sheets and parts were left out. */
    readonly refused: readonly {
      readonly format: string;
      readonly code: string;
      readonly what: string;
      readonly sheets?: readonly string[];
      readonly parts?: readonly string[];
    }[];
    /** What was applied at output, each once. */
    readonly corrections: readonly CorrectionRow[];
  };
  readonly findings: readonly Finding[];
}

export interface ReportPart {
  readonly id: string;
  readonly letter: string;
  readonly name: string;
  readonly side: 'L' | 'R' | 'C';
  readonly pair?: string;
  readonly layer: number;
  readonly material: string;
  readonly count: number;
  readonly faces: number;
  readonly areaMm2: number;
  readonly surfaceAreaMm2: number;
  readonly method: string;
  readonly iterations: number;
  readonly converged: boolean;
  readonly flips: number;
  readonly overlaps: number;
  readonly sigma1: Distribution;
  readonly sigma2: Distribution;
  readonly areaRatio: { readonly min: number; readonly mean: number; readonly max: number };
  readonly strain: {
    readonly stretch: Distribution;
    readonly squeeze: Distribution;
    readonly worstAt: readonly number[];
    readonly atTips?: { readonly stretch: number; readonly squeeze: number };
  };
  readonly bestRatio: number;
  readonly verdict: 'cold' | 'hot' | 'needs-seam';
  readonly forming: 'bent' | 'domed';
  readonly outline: readonly (readonly [number, number])[];
  readonly holes: readonly (readonly (readonly [number, number])[])[];
  readonly sides: readonly { readonly id: string; readonly seam?: string; readonly lengthMm: number; readonly allowanceMm: number }[];
  readonly notches: readonly { readonly seam: string; readonly at: readonly [number, number]; readonly code: string }[];
}

/**
 * The report of a walk. `ok` is false when a stage failed, or when a piece, a part, a seam or a file was refused, or a part found no sheet.
 * @param files what was written, without the report itself
 */
export function makeReport(job: Job, results: JobResults, files: readonly OutputFile[], refused: Report['output']['refused']): Report {
  const { body, cut, nested } = results;
  const size = body ? bounds(body.mesh) : undefined;
  const failed = results.failed ? [{ severity: 'severe' as const, ...results.failed.account }] : [];
  // A seam beyond the seam rule, a sheet that the tool must not have: what else is sound was written (contract: exit codes).
  const isRefused = (results.seams ?? []).some((seam) => seam.refused) || refused.length > 0;
  const everyPart = (results.parts ?? []).length === (cut?.patches.length ?? 0);
  return {
    plastron: 1,
    kind: 'report',
    ok:
      !results.failed &&
      everyPart &&
      !isRefused &&
      (nested?.unplaced ?? []).length === 0 &&
      !(cut?.findings ?? []).some((entry) => entry.severity === 'severe'),
    job: { name: job.name, sha256: sha256(new TextEncoder().encode(jobText(job))) },
    body: {
      unit: body?.unit ?? 'unknown',
      faces: body ? body.mesh.faces.length / 3 : 0,
      sizeMm: size ? size.max.map((high, k) => high - size.min[k]) : [],
      scale: body?.scale ?? 1,
      measures: body?.measures ?? [],
    },
    standoff: results.standoff ?? [],
    marks: {
      areas: cut?.areas ?? [],
      lines: cut?.lines ?? [],
    },
    parts: (results.parts ?? []).map(reportPart),
    seams: (results.seams ?? []).map(({ parts: _parts, ...seam }) => seam),
    sheets: nested?.sheets ?? [],
    unplaced: nested?.unplaced ?? [],
    output: {
      files: files.map(({ path, format, sheet, bytes }) => ({
        path,
        format,
        ...(sheet === undefined ? {} : { sheet }),
        sha256: sha256(plainBytes(bytes)),
      })),
      refused,
      corrections: correctionRows(results.corrections ?? [], job.output.printFactor),
    },
    findings: [...failed, ...results.findings],
  };
}

function reportPart(part: DraftedPart): ReportPart {
  const { id, letter, name, side, pair, layer, material, count, faces, areaMm2, surfaceAreaMm2, summary, strain, verdict, forming } = part;
  return {
    id,
    letter,
    name,
    side,
    ...(pair === undefined ? {} : { pair }),
    layer,
    material,
    count,
    faces,
    areaMm2,
    surfaceAreaMm2,
    method: summary.method,
    iterations: summary.iterations,
    converged: summary.converged,
    flips: summary.flips,
    overlaps: summary.overlaps,
    sigma1: summary.sigma1,
    sigma2: summary.sigma2,
    areaRatio: summary.areaRatio,
    strain,
    bestRatio: summary.bestRatio,
    verdict,
    forming,
    outline: pairsOf(part.outline),
    holes: part.holes.map(pairsOf),
    sides: part.sides.map((edge) => ({
      id: edge.id,
      ...(edge.seam === undefined ? {} : { seam: edge.seam }),
      lengthMm: edge.lengthMm,
      allowanceMm: edge.allowanceMm,
    })),
    notches: part.notches.map(({ seam, at, code }) => ({ seam, at: [at[0], at[1]], code })),
  };
}

/** x0 y0 x1 y1 … as [[x0, y0], …]. */
function pairsOf(flat: F64): [number, number][] {
  return Array.from({ length: flat.length / 2 }, (_, i) => [flat[2 * i], flat[2 * i + 1]]);
}
