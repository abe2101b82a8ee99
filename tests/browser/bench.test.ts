/*
 * The page in real Chromium on the sample job: every station, undo by keyboard, nothing asked of another host, axe, and the same bytes as Node.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { sha256 } from '../../src/base/hash.ts';
import { runJob } from '../../src/pipeline.ts';
import { writeFiles } from '../../src/write-files.ts';
import { sampleJob } from '../../samples/jobs/tide-warden.ts';
import { hasChromium, launchChromium, openPage, sampleId, settled, startBench } from '../support/page.ts';
import type { OpenedPage, TestBench } from '../support/page.ts';
import { root } from '../support/sources.ts';

if (!hasChromium && process.env.CI !== 'true') console.warn('left out: the browser tests, for want of Chromium');

describe.skipIf(!hasChromium && process.env.CI !== 'true')('the bench in Chromium', () => {
  let bench: TestBench;
  let browser: Browser;
  let opened: OpenedPage;

  beforeAll(async () => {
    bench = await startBench();
    browser = await launchChromium();
    await (await fetch(`${bench.server.address}api/sample`)).json();
    opened = await openPage(browser, bench, `#job=${sampleId}`);
    await opened.page.getByRole('tab', { name: /Sheets/ }).waitFor();
    await opened.page.waitForTimeout(2000);
    await settled(opened.page, 200_000);
  }, 300_000);
  afterAll(async () => {
    await browser.close();
    await bench.close();
  });

  it('walks the sample job through all seven stations, with the parts in their table [product]', async () => {
    const { page } = opened;
    for (const station of ['Body', 'Clearance', 'Draw', 'Lay flat', 'Draft', 'Sheets', 'Print and cut']) {
      await page.getByRole('tab', { name: new RegExp(station) }).click();
      await page.getByRole('heading', { name: station, exact: true }).first().waitFor();
    }
    await page.getByRole('tab', { name: /Lay flat/ }).click();
    for (const name of ['Breast, lower', 'Breast, upper', 'Collar', 'Flank', 'Shoulder cap'])
      expect(await page.getByText(name).count(), name).toBeGreaterThan(0);
    expect(await page.getByText('needs heat').count()).toBeGreaterThan(0);
  });

  it('undoes and redoes by keyboard [product]', async () => {
    const { page } = opened;
    await page.getByRole('tab', { name: /Draw/ }).click();
    const mirror = page.getByRole('switch', { name: /Mirror/ });
    const before = await mirror.getAttribute('aria-checked');
    await mirror.click();
    await expect.poll(() => mirror.getAttribute('aria-checked')).not.toBe(before);
    await page.keyboard.press('Control+z');
    await expect.poll(() => mirror.getAttribute('aria-checked')).toBe(before);
    await settled(page, 200_000);
  });

  it('asks nothing of another host and complains of nothing [product: a body scan is private]', () => {
    expect(opened.strangers).toEqual([]);
    // Software graphics make the driver talk about slow reads; that is no complaint of ours.
    expect(opened.complaints.filter((line) => !/GL Driver Message|GPU stall|ReadPixels/.test(line))).toEqual([]);
  });

  it('has no fault that axe finds, at any station [axe-core]', async () => {
    const { page } = opened;
    const axe = readFileSync(join(root, 'node_modules/axe-core/axe.min.js'), 'utf8');
    await page.evaluate(axe);
    const faults: string[] = [];
    for (const station of ['Body', 'Clearance', 'Draw', 'Lay flat', 'Draft', 'Sheets', 'Print and cut']) {
      await page.getByRole('tab', { name: new RegExp(station) }).click();
      await page.waitForTimeout(400);
      const found = await page.evaluate(async () => {
        const { axe: judge } = globalThis as unknown as {
          axe: { run: () => Promise<{ violations: { id: string; nodes: { target: unknown[] }[] }[] }> };
        };
        return (await judge.run()).violations.map(
          (violation) => `${violation.id}: ${violation.nodes.map((node) => String(node.target[0])).join(' | ')}`,
        );
      });
      faults.push(...found.map((fault) => `${station}: ${fault}`));
    }
    expect(faults).toEqual([]);
  });

  it('writes the same bytes in Chromium as in Node [second route]', async () => {
    const { job, file } = await sampleJob();
    const written = await writeFiles(job, file, await runJob(job, file, quietRun), quietRun);
    const wanted = written.files.map((entry) => `${entry.path} ${sha256(entry.bytes as Uint8Array)}`).sort();
    const script = readdirSync(join(root, 'dist/page/assets')).find((name) => /^browser-.*\.js$/.test(name));
    const made = await opened.page.evaluate(
      async ({ url, asked, name, bytes }) => {
        interface Made {
          readonly id: number;
          readonly kind: string;
          readonly account?: unknown;
          readonly answer?: { readonly files?: readonly { readonly path: string; readonly bytes: Uint8Array<ArrayBuffer> }[] };
        }
        const worker = new Worker(url, { type: 'module' });
        const ask = (message: { readonly id: number } & Record<string, unknown>): Promise<Made> =>
          new Promise((resolve, reject) => {
            worker.addEventListener('message', (event: MessageEvent<Made>) => {
              if (event.data.id !== message.id) return;
              if (event.data.kind === 'done') resolve(event.data);
              if (event.data.kind === 'failed') reject(new Error(JSON.stringify(event.data.account)));
            });
            worker.postMessage(message);
          });
        await ask({ id: 1, kind: 'open', job: asked, file: { name, bytes: Uint8Array.from(bytes) } });
        const { answer } = await ask({ id: 2, kind: 'files', formats: asked.output.formats });
        const lines: string[] = [];
        for (const each of answer?.files ?? []) {
          const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', each.bytes));
          lines.push(`${each.path} ${[...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('')}`);
        }
        worker.terminate();
        return lines.sort();
      },
      { url: `/assets/${script ?? 'missing'}`, asked: job, name: file.name, bytes: [...file.bytes] },
    );
    expect(made).toEqual(wanted);
  });
});
