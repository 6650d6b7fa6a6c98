/** The ways in which a cold process of ours may start, each as arguments of Node; a bare Node that does nothing is their floor. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

export interface Start {
  name: string;
  args: string[];
}

export const BARE: Start = { name: 'a bare Node that does nothing', args: ['-e', '0'] };

export async function ownStarts(folder: string): Promise<Start[]> {
  const modules = fileURLToPath(new URL('./own-process.mjs', import.meta.url));
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: modules,
      outDir: folder,
      minify: true,
      rollupOptions: { output: { format: 'cjs', entryFileNames: 'own.cjs' } },
    },
  });
  const bundle = join(folder, 'own.cjs');
  const blob = join(folder, 'own.blob');
  const made = spawnSync(process.execPath, ['--snapshot-blob', blob, '--build-snapshot', bundle]);
  const starts = [
    { name: 'the built modules', args: [modules] },
    { name: 'one bundled file', args: [bundle] },
  ];
  return made.status === 0
    ? [...starts, { name: 'a start-up snapshot of it', args: ['--snapshot-blob', blob] }]
    : starts;
}
