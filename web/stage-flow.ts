/*
 * What the page knows of each stage while the worker walks: pure steps from one picture to the next. A value stays on show while a newer
 * one is being made; a stage that failed keeps its account, and what lies behind it has nothing honest to show.
 */
import type { Account } from '../src/base/failure.ts';
import type { StageName, StageValues } from '../worker/protocol.ts';
import { stageNames } from '../worker/protocol.ts';

export type StageStatus = 'empty' | 'working' | 'ready' | 'failed';

export interface StageState<Value> {
  readonly status: StageStatus;
  readonly value?: Value;
  readonly account?: Account;
}

export type Stages = { readonly [Name in StageName]: StageState<StageValues[Name]> };

export const noStages: Stages = {
  body: { status: 'empty' },
  clearance: { status: 'empty' },
  draw: { status: 'empty' },
  'lay-flat': { status: 'empty' },
  draft: { status: 'empty' },
  sheets: { status: 'empty' },
};

const withState = <Name extends StageName>(stages: Stages, name: Name, state: StageState<StageValues[Name]>): Stages => ({
  ...stages,
  [name]: state,
});

/** A run starts: every stage is on its way; old values stay on show. */
export function stagesStarted(stages: Stages): Stages {
  return stageNames.reduce<Stages>((all, name) => {
    const { value } = all[name];
    return { ...all, [name]: value === undefined ? { status: 'working' } : { status: 'working', value } };
  }, stages);
}

/** A stage has told its value. */
export function stageArrived<Name extends StageName>(stages: Stages, name: Name, value: StageValues[Name]): Stages {
  return withState(stages, name, { status: 'ready', value });
}

/** A stage has no honest result: it keeps the account, later stages show nothing. */
export function stageFailed(stages: Stages, name: StageName, account: Account): Stages {
  const from = stageNames.indexOf(name);
  return stageNames.slice(from).reduce<Stages>((all, later) => {
    const state: StageState<never> = later === name ? { status: 'failed', account } : { status: 'empty' };
    return { ...all, [later]: state };
  }, stages);
}

/** The run ended early (stopped, or broken down): what had not arrived is neither new nor on its way. */
export function stagesHalted(stages: Stages): Stages {
  return stageNames.reduce<Stages>((all, name) => {
    const state = all[name];
    if (state.status !== 'working') return all;
    return { ...all, [name]: { status: 'empty', ...(state.value === undefined ? {} : { value: state.value }) } };
  }, stages);
}
