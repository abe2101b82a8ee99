/*
 * One row of a benchmark's table (contract).
 */

export interface BenchRow {
  readonly file: string;
  readonly faces: number;
  readonly method: string;
  readonly repeat: number;
  readonly medianSeconds: Readonly<Record<string, number>>;
  readonly peakMb: number;
  readonly quality: Readonly<Record<string, unknown>>;
  readonly judges: readonly { readonly name: string; readonly seconds: number; readonly ratio: number }[];
}
