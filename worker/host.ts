/*
 * The whole worker without any Worker global: tests drive it directly. It keeps a replica of the job's history and applies the same pure
 * commands as the page, so a stroke costs its points; heavy asks run one after the other, light ones in between when the heavy one breathes.
 */
import { Failure, toAccount } from '../src/base/failure.ts';
import type { Run, RunPlatform } from '../src/base/run.ts';
import { createRun } from '../src/base/run.ts';
import { warmUp } from '../src/flatten/warm-up.ts';
import type { History } from '../src/job/history.ts';
import { perform, redo, startHistory, undo } from '../src/job/history.ts';
import type { PipelineCache, PipelineStage, JobResults } from '../src/pipeline.ts';
import { createPipelineCache, runJob } from '../src/pipeline.ts';
import type { SourceFile } from '../src/read/triangle-soup.ts';
import { writeFiles } from '../src/write-files.ts';
import type { Queries } from './queries.ts';
import { createQueries } from './queries.ts';
import type { Answers, Ask, AskKind, Tell } from './protocol.ts';

export interface Host {
  readonly receive: (ask: Ask) => void;
  /** Has the engine compile the flattening before the first part is asked for; asks are answered meanwhile. */
  readonly warmUp: () => void;
}

/** Every ask but the stop. */
type WorkAsk = Exclude<Ask, { kind: 'cancel' }>;

/** Asks that walk stages; they wait for each other. */
const heavyKinds: ReadonlySet<AskKind> = new Set(['open', 'run', 'suggest', 'files']);

/** Progress goes out at most this often, ms. */
const progressGap = 50;

interface HostState {
  history?: History;
  file?: SourceFile;
  cache: PipelineCache;
  readonly queries: Queries;
}

/**
 * @param tell sends a tell to the page
 * @param platform clock and pause of the thread
 */
export function createHost(tell: (tell: Tell) => void, platform: Pick<RunPlatform, 'now' | 'pause'>): Host {
  const state: HostState = { cache: createPipelineCache(), queries: createQueries() };
  const stopped = new Set<number>();
  let queue = Promise.resolve();

  async function work(ask: WorkAsk): Promise<void> {
    let lastTold = -Infinity;
    const run = createRun({
      ...platform,
      isStopped: () => stopped.has(ask.id),
      onReport: (stage, fraction) => {
        if (platform.now() - lastTold < progressGap && fraction < 1) return;
        lastTold = platform.now();
        tell({ id: ask.id, kind: 'progress', stage, fraction });
      },
    });
    try {
      run.checkStopped();
      tell({ id: ask.id, kind: 'done', answer: await answer(state, ask, run, tell) });
    } catch (error) {
      tell({ id: ask.id, kind: 'failed', account: toAccount(asFailure(error)) });
    } finally {
      stopped.delete(ask.id);
    }
  }

  return {
    // A fault here will show again, with its account, when a part is flattened.
    warmUp: () => void warmUp(createRun(platform)).catch(() => undefined),
    receive: (ask) => {
      if (ask.kind === 'cancel') {
        stopped.add(ask.target);
        tell({ id: ask.id, kind: 'done', answer: {} });
        return;
      }
      if (heavyKinds.has(ask.kind)) queue = queue.then(() => work(ask));
      else void work(ask);
    },
  };
}

/** A fault of the program becomes an account too: the page must hear the end of every ask. */
function asFailure(error: unknown): Failure {
  if (error instanceof Failure) return error;
  const text = error instanceof Error ? error.message : String(error);
  return new Failure(
    'worker/fault',
    `Plastron made a mistake: ${text}.`,
    { stage: 'worker' },
    'Your job is safe. Please report this with the job file.',
    error,
  );
}

function opened(state: HostState): { history: History; file: SourceFile } {
  const { history, file } = state;
  if (!history || !file) throw new Failure('worker/no-job', 'No job is open in the worker.', { stage: 'worker' }, 'Open the job again.');
  return { history, file };
}

function expectRevision(history: History, revision: number): void {
  if (history.revision !== revision)
    throw new Failure(
      'worker/out-of-step',
      `The worker is at step ${history.revision} and the page at ${revision}.`,
      { stage: 'worker' },
      'The page sends the job again by itself.',
    );
}

async function answer(state: HostState, ask: WorkAsk, run: Run, tell: (tell: Tell) => void): Promise<Answers[AskKind]> {
  switch (ask.kind) {
    case 'open':
      // A new file needs a new cache; the same bytes keep theirs, so a re-sent job costs nothing.
      if (!state.file || !sameBytes(state.file, ask.file)) Object.assign(state, { file: ask.file, cache: createPipelineCache() });
      state.history = startHistory(ask.job);
      return { revision: 0, findings: [] };
    case 'command':
    case 'undo':
    case 'redo': {
      const { history } = opened(state);
      expectRevision(history, ask.revision);
      state.history = ask.kind === 'command' ? perform(history, ask.command) : ask.kind === 'undo' ? undo(history) : redo(history);
      return { revision: state.history.revision };
    }
    case 'run': {
      const { history } = opened(state);
      const results = await walk(state, run, ask.until, (stage, soFar) => tellStage(tell, state.queries, ask.id, history, stage, soFar));
      return { findings: results.findings, standoff: results.standoff ?? [] };
    }
    case 'trace':
      return state.queries.trace(await walk(state, run, 'clearance'), ask.line);
    case 'stroke':
      return state.queries.stroke(await walk(state, run, 'body'), ask.stroke);
    case 'measure':
      return state.queries.measure(await walk(state, run, 'body'), ask.measure);
    case 'suggest':
      throw new Failure(
        'suggest/not-built',
        'Suggestions are not there yet.',
        { stage: 'suggest' },
        'Draw a seam where the strain is largest.',
      );
    case 'files': {
      const { history, file } = opened(state);
      const results = await walk(state, run, 'sheets');
      return writeFiles(history.present.job, file, results, run, ask.formats);
    }
    default:
      return ask satisfies never;
  }
}

function sameBytes(a: SourceFile, b: SourceFile): boolean {
  if (a.name !== b.name || a.bytes.length !== b.bytes.length) return false;
  for (let i = 0; i < a.bytes.length; i++) if (a.bytes[i] !== b.bytes[i]) return false;
  return true;
}

function walk(
  state: HostState,
  run: Run,
  until: PipelineStage,
  onStage?: (stage: PipelineStage, results: JobResults) => void,
): Promise<JobResults> {
  const { history, file } = opened(state);
  return runJob(history.present.job, file, run, { until, cache: state.cache, ...(onStage ? { onStage } : {}) });
}

function tellStage(
  tell: (tell: Tell) => void,
  queries: Queries,
  id: number,
  history: History,
  stage: PipelineStage,
  results: JobResults,
): void {
  const head = { id, revision: history.revision } as const;
  const { body, surfaces, cut, flats, parts, seams, nested, drawings, failed } = results;
  if (failed) tell({ ...head, kind: 'stage-failed', stage: failed.stage, account: failed.account });
  else if (stage === 'body' && body) tell({ ...head, kind: 'stage', stage, value: body });
  else if (stage === 'clearance' && surfaces) tell({ ...head, kind: 'stage', stage, value: surfaces });
  else if (stage === 'draw' && cut)
    tell({ ...head, kind: 'stage', stage, value: { cut, traces: queries.traceAll(results, history.present.job.marks) } });
  else if (stage === 'lay-flat' && flats) tell({ ...head, kind: 'stage', stage, value: flats });
  else if (stage === 'draft' && parts && seams) tell({ ...head, kind: 'stage', stage, value: { parts, seams } });
  else if (stage === 'sheets' && nested && drawings)
    tell({ ...head, kind: 'stage', stage, value: { nested, drawings, findings: results.findings } });
}
