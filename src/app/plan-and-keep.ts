/** Plans one set-up and keeps set-up, emitter and plan together. */
import { type Plan, type PlanOptions, planFor } from '../core/plan/index.ts';
import type { Setup } from '../core/setup.ts';
import type { Bench } from './bench.ts';

export interface KeptPlan {
  setup_id: string;
  emitter_id: string;
  plan_id: string;
  plan: Plan;
}

export async function planAndKeep(
  bench: Bench,
  setup: Setup,
  who = '',
  { invented = false, ...options }: PlanOptions & { invented?: boolean } = {},
): Promise<KeptPlan> {
  return keepPlan(bench, setup, planFor(setup, options), who, invented);
}

/** Keeps a plan that was computed already. */
export async function keepPlan(
  bench: Bench,
  setup: Setup,
  plan: Plan,
  who = '',
  invented = false,
): Promise<KeptPlan> {
  const stamp = bench.stamp(who, invented);
  return bench.store.atomically(async (writer) => {
    const { id: setup_id, emitter_id } = await writer.addSetup(setup, stamp);
    const { id: plan_id } = await writer.addPlan(setup_id, plan, stamp);
    return { setup_id, emitter_id, plan_id, plan };
  });
}
