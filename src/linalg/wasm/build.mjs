/*
 * Compiles the solver's kernels (AssemblyScript) to WebAssembly and writes the bytes as a module: kernel-bytes.ts, base64, not kept in the
 * repository. Run by `npm run build:wasm` and by `npm ci` through `prepare`.
 */
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import asc from 'assemblyscript/asc';

const here = dirname(fileURLToPath(import.meta.url));
const outputs = new Map();
const { error, stderr } = await asc.main(
  [
    'fronts.as.ts',
    '--outFile=kernel.wasm',
    '-O3',
    '--noAssert',
    '--runtime=stub',
    '--importMemory',
    '--initialMemory=1',
    '--maximumMemory=65536',
    '--enable=simd',
    '--enable=bulk-memory',
  ],
  {
    readFile: (name, base) => {
      try {
        return readFileSync(join(base === '.' ? here : base, name), 'utf8');
      } catch {
        return null;
      }
    },
    writeFile: (name, content) => void outputs.set(name, content),
    listFiles: () => [],
  },
);
if (error) {
  process.stderr.write(`${stderr.toString()}\n${error.message}\n`);
  process.exit(1);
}
const bytes = Buffer.from(outputs.get('kernel.wasm'));
const target = join(here, 'kernel-bytes.ts');
// Written aside and moved, so that a reader never sees half a file.
writeFileSync(
  `${target}.part`,
  `/* Made by build.mjs from the .as.ts files; do not edit. */\n\n/** The kernels' WebAssembly module, base64. */\nexport const kernelBytes =\n  '${bytes.toString('base64')}';\n`,
);
renameSync(`${target}.part`, target);
process.stdout.write(`kernel-bytes.ts: ${bytes.length} bytes of WebAssembly\n`);
