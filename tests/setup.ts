/*
 * What the tests need from the system: Chromium, and the programs that judge our files. Installs what is missing where it may
 * (Debian's package manager, as root or by sudo without a password), else says exactly what to install.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

interface Need {
  readonly debian: string;
  readonly whatFor: string;
  readonly isThere: () => boolean;
}

const program = (name: string) => (): boolean => spawnSync('sh', ['-c', `command -v ${name}`]).status === 0;
const python = (module: string) => (): boolean => spawnSync('/usr/bin/python3', ['-c', `import ${module}`]).status === 0;
const file = (path: string) => (): boolean => existsSync(path);

export const needs: readonly Need[] = [
  { debian: 'chromium', whatFor: 'the browser tests', isThere: program('chromium') },
  { debian: 'python3-ezdxf', whatFor: 'judging DXF', isThere: python('ezdxf') },
  { debian: 'python3-shapely', whatFor: 'judging outlines and layouts', isThere: python('shapely') },
  { debian: 'mupdf-tools', whatFor: 'judging PDF', isThere: program('mutool') },
  { debian: 'qpdf', whatFor: 'judging PDF', isThere: program('qpdf') },
  { debian: 'poppler-utils', whatFor: 'judging PDF', isThere: program('pdftotext') },
  { debian: 'hp2xx', whatFor: 'judging HPGL', isThere: program('hp2xx') },
  { debian: 'librsvg2-bin', whatFor: 'judging SVG', isThere: program('rsvg-convert') },
  { debian: 'libxml2-utils', whatFor: 'judging SVG', isThere: program('xmllint') },
  { debian: 'g++', whatFor: 'the C++ judges of flattening', isThere: program('g++') },
  { debian: 'libcgal-dev', whatFor: 'the C++ judges of flattening', isThere: file('/usr/include/CGAL/version.h') },
  { debian: 'libeigen3-dev', whatFor: 'the C++ judges of flattening', isThere: file('/usr/include/eigen3/Eigen/Core') },
  {
    debian: 'libsuitesparse-dev',
    whatFor: 'the benchmarks beside a general sparse library',
    isThere: file('/usr/include/suitesparse/cholmod.h'),
  },
  { debian: 'assimp-testmodels', whatFor: 'broken mesh files', isThere: file('/usr/share/assimp/models') },
  { debian: 'fonts-dejavu-core', whatFor: 'text in screenshots', isThere: file('/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf') },
];

export interface SetupResult {
  readonly missing: readonly string[];
}

/** Installs what is missing; answers what still is. */
export function setUp(): SetupResult {
  const missing = needs.filter((need) => !need.isThere());
  if (missing.length === 0) return { missing: [] };
  const packages = missing.map((need) => need.debian);
  console.log(`Missing for the whole test run: ${missing.map((need) => `${need.debian} (${need.whatFor})`).join(', ')}`);
  const asRoot = process.getuid?.() === 0 ? [] : ['sudo', '-n'];
  const run = (...words: string[]): boolean => {
    const [command, ...rest] = [...asRoot, ...words];
    return (
      spawnSync(command, rest, { stdio: ['ignore', 'ignore', 'inherit'], env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } })
        .status === 0
    );
  };
  if (program('apt-get')()) {
    console.log('Installing them with apt-get …');
    if (run('apt-get', 'update')) run('apt-get', 'install', '-y', '--no-install-recommends', ...packages);
  }
  const still = missing.filter((need) => !need.isThere()).map((need) => need.debian);
  if (still.length > 0)
    console.log(
      `Not installed: ${still.join(', ')}. On Debian: apt-get install ${still.join(' ')}. Tests that need them are left out and counted.`,
    );
  return { missing: still };
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { missing } = setUp();
  process.exitCode = missing.length > 0 && process.env.CI ? 1 : 0;
}
