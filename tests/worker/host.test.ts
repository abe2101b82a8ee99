/*
 * The worker without a Worker: host.ts, client.ts, queries.ts and protocol.ts together, on the roof sample.
 */
import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { createRandom } from '../../src/base/random.ts';
import type { Job } from '../../src/job/job.ts';
import { applyCommand } from '../../src/job/commands/index.ts';
import type { Command } from '../../src/job/commands/index.ts';
import type { History } from '../../src/job/history.ts';
import { perform, redo, startHistory, undo } from '../../src/job/history.ts';
import { newJob } from '../../src/job/schema.ts';
import type { SourceFile } from '../../src/read/triangle-soup.ts';
import type { Client, StageTell, WorkerLike } from '../../worker/client.ts';
import { createClient } from '../../worker/client.ts';
import type { Tell } from '../../worker/protocol.ts';
import { threadless } from '../support/threadless.ts';

/** A dome of 60 mm radius as OBJ, open below. */
function domeFile(): SourceFile {
  const lines: string[] = [];
  const rings = 12;
  const around = 32;
  lines.push('v 0 60 0');
  for (let r = 1; r <= rings; r++) {
    const polar = ((Math.PI / 2) * r) / rings;
    for (let a = 0; a < around; a++) {
      const turn = (2 * Math.PI * a) / around;
      lines.push(`v ${60 * Math.sin(polar) * Math.sin(turn)} ${60 * Math.cos(polar)} ${60 * Math.sin(polar) * Math.cos(turn)}`);
    }
  }
  const at = (r: number, a: number): number => (r === 0 ? 1 : 2 + (r - 1) * around + (a % around));
  for (let a = 0; a < around; a++) lines.push(`f ${at(0, 0)} ${at(1, a)} ${at(1, a + 1)}`);
  for (let r = 1; r < rings; r++)
    for (let a = 0; a < around; a++)
      lines.push(`f ${at(r, a)} ${at(r + 1, a)} ${at(r + 1, a + 1)}`, `f ${at(r, a)} ${at(r + 1, a + 1)} ${at(r, a + 1)}`);
  return { name: 'dome.obj', bytes: new TextEncoder().encode(lines.join('\n')) };
}

function domeJob(): Job {
  const job = newJob('Dome', 'dome.obj', '2026-11-25');
  const marked = applyCommand(job, {
    kind: 'add-area',
    args: {
      area: {
        id: 'cap',
        name: 'Cap',
        layer: 0,
        growMm: 0,
        forming: 'domed',
        strokes: [{ mode: 'paint', points: [[0, 60, 0]], radiusMm: 40 }],
      },
    },
  });
  return { ...marked, body: { ...marked.body, unit: 'mm' }, marks: { ...marked.marks, mirrored: false } };
}

const seam: Command = {
  kind: 'add-line',
  args: {
    line: {
      id: 'half',
      kind: 'seam',
      path: 'shortest',
      closed: false,
      mirror: false,
      points: [
        [0, 20, 55],
        [0, 60, 0],
        [0, 20, -55],
      ],
    },
  },
};

async function openDome(): Promise<Client> {
  const client = createClient(threadless);
  await client.ask({ kind: 'open', job: domeJob(), file: domeFile() }).done;
  return client;
}

describe('the worker', () => {
  it('tells every stage in order, then is done; a seam makes two parts of one [invariant]', async () => {
    const client = await openDome();
    const stages: StageTell[] = [];
    await client.ask({ kind: 'run', until: 'sheets' }, { onStage: (tell) => stages.push(tell) }).done;
    expect(stages.map((tell) => `${tell.kind} ${tell.stage}`)).toEqual(
      ['body', 'clearance', 'draw', 'lay-flat', 'draft', 'sheets'].map((stage) => `stage ${stage}`),
    );
    const partCount = (tells: readonly StageTell[]): number =>
      tells.flatMap((tell) => (tell.kind === 'stage' && tell.stage === 'draft' ? [tell.value.parts.length] : []))[0];
    expect(partCount(stages)).toBe(1);
    await client.ask({ kind: 'command', revision: 0, command: seam }).done;
    const after: StageTell[] = [];
    await client.ask({ kind: 'run', until: 'draft' }, { onStage: (tell) => after.push(tell) }).done;
    expect(partCount(after)).toBe(2);
    client.dispose();
  });

  it('keeps in step with the page through random commands, undos and redos [invariant]', async () => {
    const client = await openDome();
    const random = createRandom(20261125);
    let page: History = startHistory(domeJob());
    for (let i = 0; i < 60; i++) {
      const choice = random();
      const revision = page.revision;
      if (choice < 0.6) {
        const command: Command = { kind: 'rename-job', args: { name: `Dome ${i}` } };
        page = perform(page, command);
        expect((await client.ask({ kind: 'command', revision, command }).done).revision).toBe(page.revision);
      } else {
        const step = choice < 0.8 ? undo : redo;
        try {
          page = step(page);
        } catch {
          continue;
        }
        expect((await client.ask({ kind: choice < 0.8 ? 'undo' : 'redo', revision }).done).revision).toBe(page.revision);
      }
    }
    const { report } = await client.ask({ kind: 'files', formats: [] }).done;
    expect(report.job.name).toBe(page.present.job.name);
    client.dispose();
  });

  it('refuses a command for another revision, so that the page sends the job again [invariant]', async () => {
    const client = await openDome();
    await expect(client.ask({ kind: 'command', revision: 7, command: seam }).done).rejects.toMatchObject({ code: 'worker/out-of-step' });
    client.dispose();
  });

  it('stops when asked, and works on afterwards [injected failure]', async () => {
    const client = await openDome();
    const asked = client.ask({ kind: 'run', until: 'sheets' });
    asked.stop();
    await expect(asked.done).rejects.toMatchObject({ code: 'run/stopped' });
    expect((await client.ask({ kind: 'run', until: 'body' }).done).findings).toBeDefined();
    client.dispose();
  });

  it('answers lines, strokes and tape measures [closed form]', async () => {
    const client = await openDome();
    if (seam.kind !== 'add-line') throw new Error('the seam is a line');
    const trace = await client.ask({ kind: 'trace', line: seam.args.line }).done;
    // The line follows the neutral plane, 8 mm outside the skin: two arcs of a circle of radius 68, from 20° of height to the pole.
    const arc = 2 * 68 * Math.acos(20 / Math.hypot(20, 55));
    expect(Math.abs(trace.lengthMm - arc)).toBeLessThan(0.01 * arc);
    const { faces } = await client.ask({ kind: 'stroke', stroke: { mode: 'paint', points: [[0, 60, 0]], radiusMm: 25 } }).done;
    expect(faces.length).toBeGreaterThan(60);
    const height = await client.ask({
      kind: 'measure',
      measure: {
        name: 'h',
        kind: 'distance',
        points: [
          [0, 60, 0],
          [60, 0, 0],
        ],
        tapeMm: 0,
      },
    }).done;
    expect(height.meshMm).toBeCloseTo(Math.hypot(60, 60), 3);
    await expect(
      client.ask({
        kind: 'trace',
        line: {
          ...seam.args.line,
          points: [
            [0, 500, 0],
            [0, 60, 0],
          ],
        },
      }).done,
    ).rejects.toMatchObject({ code: 'marks/far-from-body' });
    client.dispose();
  });

  it('a broken file fails the body stage with its account, not the worker [injected failure]', async () => {
    const client = createClient(threadless);
    await client.ask({ kind: 'open', job: domeJob(), file: { name: 'dome.obj', bytes: new TextEncoder().encode('v 0 0 0\nf 1 2 3\n') } })
      .done;
    const tells: StageTell[] = [];
    await client.ask({ kind: 'run', until: 'sheets' }, { onStage: (tell) => tells.push(tell) }).done;
    expect(tells).toHaveLength(1);
    expect(tells[0]).toMatchObject({ kind: 'stage-failed', stage: 'body' });
    client.dispose();
  });

  it('a worker that breaks down is replaced, and every open ask ends [injected failure]', async () => {
    const tells: ((tell: Tell) => void)[] = [];
    const made: WorkerLike[] = [];
    const client = createClient(() => {
      const dead: WorkerLike = { onmessage: null, onerror: null, terminate: () => undefined, postMessage: () => tells.length };
      made.push(dead);
      return dead;
    });
    const open = client.ask({ kind: 'run', until: 'body' }).done;
    made[0].onerror?.({ message: 'out of memory' });
    await expect(open).rejects.toBeInstanceOf(Failure);
    expect(made).toHaveLength(2);
  });
});
