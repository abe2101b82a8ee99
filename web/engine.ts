/*
 * The page's history and the worker's replica, kept in step. Each change goes to the worker as the same command; the run under way is
 * stopped and a new one started. When the replica is out of step (a fresh worker, a refused command), the whole job is sent again.
 */
import { batch } from '@preact/signals';
import type { Account } from '../src/base/failure.ts';
import { Failure, toAccount } from '../src/base/failure.ts';
import type { FormatName } from '../src/export/exporter.ts';
import type { Command } from '../src/job/commands/index.ts';
import type { Job } from '../src/job/job.ts';
import { perform, redo, startHistory, undo } from '../src/job/history.ts';
import type { SourceFile } from '../src/read/triangle-soup.ts';
import type { Answers, AskKind, AskOf } from '../worker/protocol.ts';
import type { Asked, Client, StageTell } from '../worker/client.ts';
import { keepUnchanged } from './keep-unchanged.ts';
import { noStages, stageArrived, stageFailed, stagesHalted, stagesStarted } from './stage-flow.ts';
import { files, history, progress, runFindings, stages, standoff } from './state.ts';

export interface Engine {
  readonly open: (job: Job, file: SourceFile) => void;
  readonly close: () => void;
  /** @throws what the command throws; nothing has changed then */
  readonly perform: (command: Command) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  /** Takes steps back (or, negative, forward) until `steps` are done. */
  readonly goBack: (steps: number) => void;
  readonly run: () => void;
  readonly stop: () => void;
  readonly ask: <Kind extends 'trace' | 'stroke' | 'measure' | 'suggest'>(ask: AskOf<Kind>) => Promise<Answers[Kind]>;
  readonly files: (formats: readonly FormatName[]) => Promise<Answers['files']>;
}

/** How many steps the replica can take without being sent the job again. */
interface Replica {
  revision: number;
  past: number;
  future: number;
}

/** Work that does not stop when asked is ended after this, ms. */
const patienceMs = 2000;

/** @param onFault told what the worker said when it broke down or refused */
export function createEngine(client: Client, onFault: (account: Account) => void): Engine {
  let file: SourceFile | undefined;
  let replica: Replica | undefined;
  let running: Asked<'run'> | undefined;
  let runNumber = 0;

  const present = (): Job | undefined => history.value?.present.job;

  function fault(error: unknown): void {
    if (!(error instanceof Failure)) throw error;
    if (error.code !== 'run/stopped' && error.code !== 'worker/out-of-step' && error.code !== 'worker/no-job') onFault(toAccount(error));
  }

  /** Sends the whole job when the replica is not in step. */
  function catchUp(): void {
    const job = present();
    if (replica || !file || !job) return;
    replica = { revision: 0, past: 0, future: 0 };
    send({ kind: 'open', job, file });
  }

  /** An ask whose refusal means that the replica is out of step. */
  function send(ask: AskOf<'open' | 'command' | 'undo' | 'redo'>): void {
    const sentTo = replica;
    client.ask(ask).done.catch((error: unknown) => {
      if (replica === sentTo) replica = undefined;
      fault(error);
    });
  }

  function step(kind: 'undo' | 'redo'): void {
    if (!history.value) return;
    history.value = kind === 'undo' ? undo(history.value) : redo(history.value);
    const canFollow = replica && (kind === 'undo' ? replica.past : replica.future) > 0;
    if (!replica || !canFollow) {
      replica = undefined;
      return;
    }
    send({ kind, revision: replica.revision });
    const by = kind === 'undo' ? -1 : 1;
    replica.revision++;
    replica.past += by;
    replica.future -= by;
  }

  function stopRun(): void {
    const stopped = running;
    if (!stopped) return;
    running = undefined;
    stopped.stop();
    let isOver = false;
    stopped.done.catch(() => undefined).finally(() => (isOver = true));
    setTimeout(() => {
      if (isOver) return;
      // It does not breathe: a fresh worker takes over.
      replica = undefined;
      client.respawn();
      if (running) run();
    }, patienceMs);
  }

  function run(): void {
    stopRun();
    const number = ++runNumber;
    catchUp();
    if (!replica) return;
    batch(() => {
      stages.value = stagesStarted(stages.value);
      progress.value = { stage: 'body', fraction: 0 };
      files.value = undefined;
    });
    const asked = client.ask(
      { kind: 'run', until: 'sheets' },
      {
        onProgress: (stage, fraction) => {
          if (number === runNumber) progress.value = { stage, fraction };
        },
        onStage: (tell) => {
          if (number === runNumber) receive(tell);
        },
      },
    );
    running = asked;
    asked.done.then(
      ({ findings, standoff: grown }) => {
        if (number !== runNumber) return;
        running = undefined;
        batch(() => {
          progress.value = undefined;
          runFindings.value = findings;
          standoff.value = grown;
        });
      },
      (error: unknown) => {
        if (number !== runNumber) return;
        running = undefined;
        batch(() => {
          progress.value = undefined;
          stages.value = stagesHalted(stages.value);
        });
        if (error instanceof Failure && (error.code === 'worker/no-job' || error.code === 'worker/crashed')) replica = undefined;
        fault(error);
      },
    );
  }

  function changed(): void {
    run();
  }

  return {
    open: (job, source) => {
      stopRun();
      file = source;
      replica = undefined;
      batch(() => {
        history.value = startHistory(job);
        stages.value = noStages;
        standoff.value = [];
        runFindings.value = [];
      });
      run();
    },
    close: () => {
      stopRun();
      runNumber++;
      file = undefined;
      replica = undefined;
      batch(() => {
        history.value = undefined;
        stages.value = noStages;
        progress.value = undefined;
        standoff.value = [];
        runFindings.value = [];
      });
    },
    perform: (command) => {
      if (!history.value) return;
      history.value = perform(history.value, command);
      if (replica) {
        send({ kind: 'command', revision: replica.revision, command });
        replica.revision++;
        replica.past++;
        replica.future = 0;
      }
      changed();
    },
    undo: () => {
      step('undo');
      changed();
    },
    redo: () => {
      step('redo');
      changed();
    },
    goBack: (steps) => {
      for (let i = 0; i < Math.abs(steps); i++) step(steps > 0 ? 'undo' : 'redo');
      if (steps !== 0) changed();
    },
    run,
    stop: () => {
      stopRun();
      runNumber++;
      batch(() => {
        progress.value = undefined;
        stages.value = stagesHalted(stages.value);
      });
    },
    ask: <Kind extends 'trace' | 'stroke' | 'measure' | 'suggest'>(ask: AskOf<Kind>) => {
      catchUp();
      return client.ask<Kind>(ask).done;
    },
    files: (formats) => {
      catchUp();
      const asked = client.ask({ kind: 'files', formats }, { onProgress: (stage, fraction) => (progress.value = { stage, fraction }) });
      return asked.done.finally(() => {
        if (!running) progress.value = undefined;
      });
    },
  };
}

function receive(tell: StageTell): void {
  stages.value = tell.kind === 'stage-failed' ? stageFailed(stages.value, tell.stage, tell.account) : arrived(tell);
}

/** The tell pairs each stage with its value; the switch keeps the pair together for the compiler. */
function arrived(tell: Extract<StageTell, { kind: 'stage' }>): typeof stages.value {
  const old = stages.value;
  switch (tell.stage) {
    case 'body':
      return stageArrived(old, 'body', keepUnchanged('body', old.body.value, tell.value));
    case 'clearance':
      return stageArrived(old, 'clearance', keepUnchanged('clearance', old.clearance.value, tell.value));
    case 'draw':
      return stageArrived(old, 'draw', keepUnchanged('draw', old.draw.value, tell.value));
    case 'lay-flat':
      return stageArrived(old, 'lay-flat', keepUnchanged('lay-flat', old['lay-flat'].value, tell.value));
    case 'draft':
      return stageArrived(old, 'draft', tell.value);
    case 'sheets':
      return stageArrived(old, 'sheets', tell.value);
    default:
      return tell satisfies never;
  }
}

/** Kinds that the engine sends; listed so that a new kind of the protocol is noticed here. */
export type EngineAsk = Exclude<AskKind, 'cancel'>;
