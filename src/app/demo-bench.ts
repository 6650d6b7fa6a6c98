/**
 * The demo bench: one invented set-up with its plan, one invented run with its reading and a note, so that the first
 * start has something to show. Everything is marked invented. What is there already is found and left as it is.
 */
import { access, open, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setupFrom } from '../contract/index.ts';
import type { Plan } from '../core/plan/index.ts';
import type { Setup } from '../core/setup.ts';
import type { RunReading } from '../evidence/index.ts';
import { inventedRun } from '../rehearsal/index.ts';
import type { Bench } from './bench.ts';
import { packagePath } from './package-root.ts';
import { planAndKeep } from './plan-and-keep.ts';
import { readRunAndKeep } from './read-and-keep.ts';
import { loadSetupFile } from './setup-file.ts';

export interface DemoBench {
  /** True on the start that put the demo in. */
  created: boolean;
  setup: Setup;
  plan: Plan;
  reading: RunReading;
  setup_id: string;
  plan_id: string;
  run_id: string;
  reading_id: string;
  run_path: string;
}

/** Marks the demo's entries among others that are invented. */
export const DEMO_WHO = 'demo';
const DEMO_SEED = 20310203;
const DEMO_RUN = 'demo-run.mzML';
const DEMO_NOTE = 'Invented: the run the demo reads. A sag and some dropouts were planted in it.';

export async function ensureDemoBench(bench: Bench): Promise<DemoBench> {
  const run_path = join(bench.folder, DEMO_RUN);
  const stored = await storedDemo(bench);
  if (stored) return { created: false, ...stored, run_path };
  const setup = await loadSetupFile(packagePath('examples/gradient-proteomics.yaml'));
  const { setup_id, plan_id, plan } = await planAndKeep(bench, setup, DEMO_WHO, { invented: true });
  await writeRun(run_path);
  const { reading, run_id, reading_id } = await readRunAndKeep(bench, run_path, { who: DEMO_WHO });
  if (!run_id || !reading_id) throw new Error('the demo run was read and not kept');
  const { related } = await bench.show(run_id);
  const created = !related.some((item) => item.kind === 'note' && item.who === DEMO_WHO);
  if (created) await bench.note({ on: run_id, text: DEMO_NOTE, who: DEMO_WHO });
  return { created, setup, plan, reading, setup_id, plan_id, run_id, reading_id, run_path };
}

/** The whole demo as this version stored it; undefined where a part is missing or another version computed it. */
async function storedDemo(bench: Bench): Promise<Omit<DemoBench, 'created' | 'run_path'> | undefined> {
  const mine = (await bench.list()).filter((item) => item.invented && item.who === DEMO_WHO);
  const current = mine.filter((item) => item.version === bench.version);
  const note = mine.find((item) => item.kind === 'note');
  const reading = current.find((item) => item.kind === 'reading' && item.on === note?.on);
  const plan = current.find((item) => item.kind === 'plan');
  if (!note || !reading?.on || !plan?.on) return undefined;
  return {
    setup: setupFrom((await bench.show(plan.on)).document),
    plan: (await bench.show(plan.id)).document as Plan,
    reading: (await bench.show(reading.id)).document as RunReading,
    setup_id: plan.on,
    plan_id: plan.id,
    run_id: reading.on,
    reading_id: reading.id,
  };
}

/** Written under another name first: a start that is stopped leaves no half file behind under the run's name. */
async function writeRun(path: string): Promise<void> {
  if (
    await access(path).then(
      () => true,
      () => false,
    )
  )
    return;
  const unfinished = `${path}.${process.pid}.part`;
  try {
    const file = await open(unfinished, 'w');
    try {
      for (const piece of inventedRun({ seed: DEMO_SEED })) await file.write(piece);
    } finally {
      await file.close();
    }
    await rename(unfinished, path);
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
}
