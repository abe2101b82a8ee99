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
  readonly stock: readonly Stock[];
}
