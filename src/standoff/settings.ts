/*
 * What the maker decided about clearance and layers: the job's `standoff` field.
 */
export interface StandoffSettings {
  readonly clearanceMm: number;
  readonly paddingMm: number;
  readonly bridgeHollowsMm: number;
  readonly ease: readonly { readonly measure: string; readonly mm: number }[];
  /** Material ids, inner to outer. */
  readonly layers: readonly string[];
}
