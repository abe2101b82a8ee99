import { defineConfig } from 'vitest/config';

const slow = 'tests/**/*.slow.test.ts';
const outside = 'tests/outside/**/*.test.ts';
const browser = 'tests/browser/**/*.test.ts';

export default defineConfig({
  test: {
    maxWorkers: 2,
    testTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'unit', include: ['tests/**/*.test.ts'], exclude: [slow, outside, browser, 'node_modules/**'] } },
      { extends: true, test: { name: 'slow', include: [slow], testTimeout: 600_000, hookTimeout: 600_000 } },
      { extends: true, test: { name: 'outside', include: [outside], testTimeout: 600_000, hookTimeout: 600_000 } },
      { extends: true, test: { name: 'browser', include: [browser], testTimeout: 300_000, hookTimeout: 300_000, fileParallelism: false } },
    ],
  },
});
