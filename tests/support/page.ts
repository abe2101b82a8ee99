/*
 * A real page for tests: the server on a free port with its own jobs folder, and Debian's Chromium with software graphics.
 */
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { chromium } from 'playwright-core';
import { sampleJob } from '../../samples/jobs/tide-warden.ts';
import type { JobStore } from '../../web/server/job-store.ts';
import type { RunningServer } from '../../web/server/start.ts';
import { startServer } from '../../web/server/start.ts';

export const chromiumPath = '/usr/bin/chromium';
export const hasChromium = existsSync(chromiumPath);

const flags = [
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--font-render-hinting=none',
];

export const launchChromium = (): Promise<Browser> =>
  chromium.launch({ executablePath: chromiumPath, chromiumSandbox: false, args: flags });

export interface TestBench {
  readonly server: RunningServer;
  readonly jobsFolder: string;
  readonly close: () => Promise<void>;
}

export const sampleId = 'tide-warden-chest';

async function addSample(store: JobStore): Promise<string> {
  if (await store.has(sampleId)) return sampleId;
  const { job, file } = await sampleJob();
  return store.create(job, { name: file.name, bytes: file.bytes as Uint8Array }, sampleId);
}

/** The server on a free port, with the sample job to be asked for. The page must have been built. */
export async function startBench(): Promise<TestBench> {
  const jobsFolder = mkdtempSync(join(tmpdir(), 'plastron-bench-'));
  const server = await startServer({ port: 0, host: '127.0.0.1', jobsFolder, sample: addSample });
  return {
    server,
    jobsFolder,
    close: async () => {
      await server.close();
      rmSync(jobsFolder, { recursive: true, force: true });
    },
  };
}

export interface OpenedPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Requests that would leave this machine. */
  readonly strangers: string[];
  /** What the page complained of. */
  readonly complaints: string[];
}

/** A fresh page of a bench. @param path what follows the server's address: `#job=…` */
export async function openPage(
  browser: Browser,
  bench: TestBench,
  path = '',
  look: { readonly width?: number; readonly height?: number; readonly dark?: boolean; readonly touch?: boolean } = {},
): Promise<OpenedPage> {
  const context = await browser.newContext({
    viewport: { width: look.width ?? 1440, height: look.height ?? 900 },
    colorScheme: look.dark === true ? 'dark' : 'light',
    reducedMotion: 'reduce',
    hasTouch: look.touch === true,
    acceptDownloads: true,
  });
  const page = await context.newPage();
  const strangers: string[] = [];
  const complaints: string[] = [];
  const home = new URL(bench.server.address).host;
  page.on('request', (request) => {
    const url = new URL(request.url());
    if (!['blob:', 'data:'].includes(url.protocol) && url.host !== home) strangers.push(request.url());
  });
  page.on('pageerror', (error) => complaints.push(`${error.name}: ${error.message}\n${error.stack ?? ''}`));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(`${message.type()}: ${message.text()}`);
  });
  await page.goto(bench.server.address + path);
  return { page, context, strangers, complaints };
}

/** Waits until the worker has nothing left to do. */
export async function settled(page: Page, timeout = 120_000): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector('.working') === null && document.querySelector('.tape .working') === null,
    undefined,
    {
      timeout,
    },
  );
}
