import { unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { openBundle, packJob, parseJob } from '../../src/job/bundle.ts';
import { smallJob } from '../support/jobs.ts';

const file = { name: 'body.obj', bytes: new TextEncoder().encode('v 0 0 0\n') };

describe('bundles', () => {
  it('give back the job and the body [round trip]', () => {
    const opened = openBundle(packJob(smallJob(), file, Uint8Array.of(137, 80)));
    expect(opened.job).toEqual({ ...smallJob(), body: { ...smallJob().body, sha256: opened.job.body.sha256 } });
    expect([...opened.file.bytes]).toEqual([...file.bytes]);
    expect(opened.job.body.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  it('have the same bytes for the same content, whenever they are made [invariant]', () => {
    expect(packJob(smallJob(), file)).toEqual(packJob(smallJob(), { ...file, bytes: Uint8Array.from(file.bytes) }));
  });

  it('are refused with the reason when they are damaged [injected failure]', () => {
    const bytes = packJob(smallJob(), file);
    expect(() => openBundle(bytes.slice(0, bytes.length - 30))).toThrow(/not-a-zip/);
    expect(() => openBundle(Uint8Array.of(1, 2, 3))).toThrow(/not-a-zip/);
    const entries = unzipSync(bytes);
    expect(() => openBundle(zipSync({ 'body/body.obj': entries['body/body.obj'] }))).toThrow(/no-job/);
    expect(() => openBundle(zipSync({ 'job.json': entries['job.json'] }))).toThrow(/no-body/);
    expect(() => parseJob('{"plastron": 1,')).toThrow(/not-json/);
  });
});
