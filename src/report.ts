/*
 * The shape of report.json (contract) and of `make --json`.
 */
import type { Finding } from './base/failure.ts';
import type { Distribution } from './flatten/flat-part.ts';

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
    readonly refused: readonly { readonly format: string; readonly code: string; readonly what: string }[];
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
  readonly strain: { readonly stretch: Distribution; readonly squeeze: Distribution; readonly worstAt: readonly number[] };
  readonly bestRatio: number;
  readonly verdict: 'cold' | 'hot' | 'needs-seam';
  readonly forming: 'bent' | 'domed';
  readonly outline: readonly (readonly [number, number])[];
  readonly holes: readonly (readonly (readonly [number, number])[])[];
  readonly sides: readonly { readonly id: string; readonly seam?: string; readonly lengthMm: number; readonly allowanceMm: number }[];
  readonly notches: readonly { readonly seam: string; readonly at: readonly [number, number]; readonly code: string }[];
}
