/*
 * What the maker decided about drafting: the job's `draft` field.
 */
export interface SideDraft {
  readonly area: string;
  /** The line that made the side; `border` stands for the area's own finished edge. */
  readonly line: string;
  /** Material left outside the seam line, mm. 0 for a butt joint; under a lap or for tabs as wide as they. */
  readonly allowanceMm: number;
  /** Taken out of the seam after a fitting, mm in all: each mate loses half. Negative lets out. */
  readonly takeInMm: number;
  /** How the allowance is cut: one strip (default), or tabs with gaps between them. */
  readonly join?: 'lap' | 'tab';
  /** Difference of the two sides' lengths that is meant, mm. */
  readonly easeMm?: number;
}

export interface DraftSettings {
  readonly tracedFace: 'inner' | 'outer';
  readonly notch: 'tick' | 'slit' | 'v';
  readonly bevel: boolean;
  readonly sides: readonly SideDraft[];
}
