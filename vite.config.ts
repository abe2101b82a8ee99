/*
 * The page: root `web`, built into `dist/page`, its worker as an ES module. Nothing is inlined, so that the strict content policy holds.
 */
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

export default defineConfig({
  root: fileURLToPath(new URL('web', import.meta.url)),
  base: './',
  publicDir: fileURLToPath(new URL('web/public', import.meta.url)),
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  worker: { format: 'es' },
  build: {
    outDir: fileURLToPath(new URL('dist/page', import.meta.url)),
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 1500,
    modulePreload: { polyfill: false },
  },
  server: { host: '127.0.0.1', fs: { allow: [fileURLToPath(new URL('.', import.meta.url))] } },
  preview: { host: '127.0.0.1' },
});
