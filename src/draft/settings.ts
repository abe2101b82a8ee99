/*
 * What the maker decided about drafting: the job's `draft` field.
 */
export interface SideDraft {
  readonly area: string;
  readonly line: string;
  readonly allowanceMm: number;
  readonly takeInMm: number;
}

export interface DraftSettings {
  readonly tracedFace: 'inner' | 'outer';
  readonly notch: 'tick' | 'slit' | 'v';
  readonly bevel: boolean;
  readonly sides: readonly SideDraft[];
}
