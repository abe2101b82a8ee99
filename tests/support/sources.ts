/*
 * The project's own source files, for the rules tests.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url)).replace(/\/$/, '');

/** Paths from the root of all files that git tracks or would track. */
export function projectFiles(): string[] {
  const listed = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { cwd: root, encoding: 'utf8' });
  return listed.split('\n').filter((path) => path !== '' && existsSync(join(root, path)));
}

export const textOf = (path: string): string => readFileSync(join(root, path), 'utf8');

export interface ImportLine {
  readonly from: string;
  /** Path from the root for own files, package name otherwise. */
  readonly to: string;
  readonly isOwn: boolean;
}

/** Imports and re-exports of a TypeScript file. */
export function importsOf(path: string): ImportLine[] {
  const found = textOf(path).matchAll(/(?:^|\n)\s*(?:import|export)\s(?:[^'";]*?\sfrom\s)?'([^']+)'|import\('([^']+)'\)/g);
  return [...found].map((match) => {
    const target = match[1] ?? match[2];
    const isOwn = target.startsWith('.');
    return { from: path, to: isOwn ? relative(root, normalize(join(root, dirname(path), target))) : packageOf(target), isOwn };
  });
}

function packageOf(target: string): string {
  const parts = target.split('/');
  return target.startsWith('@') ? parts.slice(0, 2).join('/') : parts[0];
}
