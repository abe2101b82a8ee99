/*
 * Judges in C++: compiled once into the dependency cache, keyed by their source, with the system's compiler and Debian's libraries.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const folder = fileURLToPath(new URL('../outside/native/', import.meta.url));
const cache = fileURLToPath(new URL('../../node_modules/.cache/plastron-judges/', import.meta.url));

/**
 * The compiled judge of a source file, or why there is none.
 * @param name file in tests/outside/native without its ending
 * @param flags compiler flags for libraries
 */
export function compileJudge(name: string, flags: readonly string[] = []): { readonly path: string } | { readonly missing: string } {
  const source = `${folder}${name}.cpp`;
  const key = createHash('sha256').update(readFileSync(source)).update(flags.join(' ')).digest('hex').slice(0, 16);
  const path = `${cache}${name}-${key}`;
  if (existsSync(path)) return { path };
  if (spawnSync('g++', ['--version']).status !== 0) return { missing: 'no C++ compiler (g++)' };
  mkdirSync(cache, { recursive: true });
  const built = spawnSync(
    'g++',
    ['-O2', '-march=native', '-std=c++17', '-DNDEBUG', '-I/usr/include/eigen3', '-o', path, source, ...flags],
    { encoding: 'utf8' },
  );
  return built.status === 0 ? { path } : { missing: `${name}.cpp does not compile here: ${built.stderr.split('\n')[0]}` };
}
