// Shared steps of start, test, build and bench. Node only, no shell in between: the same on Windows, macOS and Linux.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeCatalogueIndex } from './catalogue.mjs';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..');

export class StepFailed extends Error {}

/** Runs a step's main function; a StepFailed ends the process with its one line. */
export async function main(task) {
  try {
    await task();
  } catch (error) {
    if (!(error instanceof StepFailed)) throw error;
    process.stderr.write(`steadycone: ${error.message}\n`);
    process.exit(1);
  }
}

export function run(args, options = {}) {
  const result = spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit', ...options });
  return result.status ?? 1;
}

export function bin(name, path) {
  return join(root, 'node_modules', name, path);
}

/** Packages as the lock file says; skipped when this very lock is already installed (an offline PC with the folder carried over). */
export function install() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19))
    throw new StepFailed(`out of range Node.js: ${process.versions.node}; expected 20.19 or later`);
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  const stamp = join(root, 'node_modules', '.steadycone-lock');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  const npm = process.env.npm_execpath;
  if (npm === undefined)
    throw new StepFailed('missing npm: started without it; expected `npm start` or `npm test`');
  process.stdout.write('Installing packages (once; a minute or two) …\n');
  const status = run([
    npm,
    'ci',
    '--include=dev',
    '--include=optional',
    '--no-audit',
    '--no-fund',
    '--loglevel=error',
  ]);
  if (status !== 0)
    throw new StepFailed(
      'missing packages: npm ci failed; expected the package registry within reach once, or this folder copied with its node_modules from a PC of the same system',
    );
  linkOwnCommand();
  writeFileSync(stamp, lock);
}

/** `npx steadycone` inside the checkout finds the command where npm looks for it. */
function linkOwnCommand() {
  const folder = join(root, 'node_modules', '.bin');
  mkdirSync(folder, { recursive: true });
  if (process.platform === 'win32') {
    writeFileSync(join(folder, 'steadycone.cmd'), '@node "%~dp0\\..\\..\\dist\\cli\\main.js" %*\r\n');
    return;
  }
  const link = join(folder, 'steadycone');
  if (!existsSync(link)) symlinkSync(join('..', '..', 'dist', 'cli', 'main.js'), link);
}

/** Compiles rooms and page; skipped when no source changed since the last build. */
export function build({ force = false } = {}) {
  writeCatalogueIndex();
  const stamp = join(root, 'dist', '.built');
  const state = fingerprint();
  if (!force && existsSync(stamp) && readFileSync(stamp, 'utf8') === state) return;
  process.stdout.write('Building …\n');
  if (run([bin('typescript', 'bin/tsc'), '-b']) !== 0)
    throw new StepFailed('build failed: type errors above');
  if (run([bin('vite', 'bin/vite.js'), 'build', '-c', 'src/web/vite.config.ts', '--logLevel', 'warn']) !== 0)
    throw new StepFailed('build failed: the page did not bundle');
  makeRunnable();
  writeFileSync(stamp, state);
}

function makeRunnable() {
  if (process.platform === 'win32') return;
  const file = join(root, 'dist', 'cli', 'main.js');
  run(['-e', `require('node:fs').chmodSync(${JSON.stringify(file)}, 0o755)`]);
}

function fingerprint() {
  const hash = createHash('sha256');
  const walk = (folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true }).sort((a, b) =>
      a.name < b.name ? -1 : 1,
    )) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else {
        const { size, mtimeMs } = statSync(path);
        hash.update(`${path.slice(root.length)} ${size} ${mtimeMs}\n`);
      }
    }
  };
  walk(join(root, 'src'));
  for (const name of ['package.json', 'package-lock.json', 'tsconfig.json', 'tsconfig.base.json'])
    hash.update(readFileSync(join(root, name)));
  return hash.digest('hex');
}
