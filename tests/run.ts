/*
 * `npm test`: set-up, kernels, page, lint, types, format, unused code, and every test but the slow set. Ends with one line that counts.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setUp } from './setup.ts';

interface Step {
  readonly name: string;
  readonly words: readonly string[];
}

const checks: readonly Step[] = [
  { name: 'kernels', words: ['npm', 'run', '-s', 'build:wasm'] },
  { name: 'page', words: ['npx', 'vite', 'build', '--logLevel', 'warn'] },
  { name: 'types', words: ['npm', 'run', '-s', 'types'] },
  { name: 'lint', words: ['npm', 'run', '-s', 'lint'] },
];

const isCi = process.env.CI === 'true';
const { missing } = setUp();
if (isCi && missing.length > 0) {
  console.log('In CI nothing may be left out.');
  process.exit(1);
}

const failedSteps: string[] = [];
for (const step of checks) {
  const started = performance.now();
  const [command, ...rest] = step.words;
  const isGood = spawnSync(command, rest, { stdio: 'inherit' }).status === 0;
  console.log(`${isGood ? 'ok  ' : 'FAIL'} ${step.name} (${((performance.now() - started) / 1000).toFixed(1)} s)`);
  if (!isGood) failedSteps.push(step.name);
}

const folder = mkdtempSync(join(tmpdir(), 'plastron-test-'));
const reportPath = join(folder, 'report.json');
const extra = process.argv.slice(2);
const projects = extra.length > 0 ? extra : ['--project', 'unit', '--project', 'outside', '--project', 'browser'];
spawnSync('npx', ['vitest', 'run', ...projects, '--reporter=default', '--reporter=json', `--outputFile.json=${reportPath}`], {
  stdio: 'inherit',
});
let passed = 0;
let failed = failedSteps.length;
let skipped = 0;
try {
  const report = JSON.parse(readFileSync(reportPath, 'utf8')) as {
    numPassedTests: number;
    numFailedTests: number;
    numFailedTestSuites: number;
    numPendingTests: number;
    success: boolean;
  };
  passed = report.numPassedTests;
  failed += Math.max(report.numFailedTests, report.success ? 0 : 1);
  skipped = report.numPendingTests;
} catch {
  console.log('The test runner left no report.');
  failed++;
}
rmSync(folder, { recursive: true, force: true });
if (failedSteps.length > 0) console.log(`Failed steps: ${failedSteps.join(', ')}`);
if (missing.length > 0) console.log(`Left out for want of: ${missing.join(', ')}`);
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
