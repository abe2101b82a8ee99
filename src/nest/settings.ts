/*
 * Stock at hand and how parts may be laid on it: the job's `sheets` field.
 */
export interface Stock {
  readonly name: string;
  readonly material: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly count: number;
  readonly marginMm: number;
  readonly turns: 'any' | '180' | '90' | 'none';
  readonly price?: number;
}

export interface NestSettings {
  /** Absent: from tool and kerf. */
  readonly spacingMm?: number;
  /** What the machine can take in at once, where that is less than a sheet. */
  readonly bed?: { readonly widthMm: number; readonly heightMm: number };
  readonly stock: readonly Stock[];
}
