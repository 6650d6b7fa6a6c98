import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { installPeers } from './install.ts';

/** Medians: by the clock, and of the processor. */
export interface Timed {
  seconds: number;
  cpu: number;
}

export interface ScipyRun {
  version: string;
  numpy: string;
  spectrogram: Record<string, Timed & { mean_density: number }>;
  statistics: Timed & { mean_sd: number; mean_q75: number };
  peak_MB: number;
  samples_MB: number;
}

const PYTHONS = ['/usr/bin/python3', 'python3'];

/** A Python that has the library; installs the Debian package only where PEERS=install asks for it. Else why there is none. */
export function scipyPython(): { python: string } | { missing: string } {
  const found = () =>
    PYTHONS.find(
      (python) => spawnSync(python, ['-c', 'import scipy.signal'], { stdio: 'ignore' }).status === 0,
    );
  const python = found();
  if (python !== undefined) return { python };
  const refused = installPeers(['python3-scipy']);
  const after = found();
  return after === undefined ? { missing: refused ?? 'the package brought no scipy' } : { python: after };
}

/** float32 samples in `path`. */
export function runScipy(
  python: string,
  path: string,
  {
    rate_Hz,
    window,
    repeats,
    sizes,
  }: { rate_Hz: number; window: number; repeats: number; sizes: readonly number[] },
): ScipyRun {
  const script = fileURLToPath(new URL('./scipy-peer.py', import.meta.url));
  const args = [script, path, String(rate_Hz), String(window), String(repeats), sizes.join(',')];
  // One thread on both sides.
  const env = { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', MKL_NUM_THREADS: '1' };
  const { status, stdout, stderr } = spawnSync(python, args, { encoding: 'utf8', env, maxBuffer: 1 << 24 });
  if (status !== 0) throw new Error(`the peer failed: ${stderr.trim().split('\n').at(-1)}`);
  return JSON.parse(stdout) as ScipyRun;
}
