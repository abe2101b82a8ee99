/*
 * The contract of a mending step: one file, one record, one line in `index.ts`, in the order of work.
 */
import type { Finding } from '../../base/failure.ts';
import type { Run } from '../../base/run.ts';
import type { Axis, Repair } from '../body.ts';
import type { MendStep } from '../settings.ts';
import type { Triangles } from '../triangles.ts';

export interface StepContext {
  /** What the maker asked of this step; empty where it runs by itself. */
  readonly asked: readonly MendStep[];
  /** The maker refused it: its result is listed and thrown away. */
  readonly isRefused: boolean;
  readonly up: Axis;
  readonly front: Axis;
}

export interface StepResult {
  readonly triangles: Triangles;
  readonly repairs: readonly Repair[];
  readonly findings: readonly Finding[];
}

export interface Step {
  readonly name: string;
  /** True if the step runs without being asked for. */
  readonly isDefault: boolean;
  readonly mend: (triangles: Triangles, context: StepContext, run: Run) => Promise<StepResult>;
}

/** A result without change. */
export const unchanged = (triangles: Triangles): StepResult => ({ triangles, repairs: [], findings: [] });
