import { describe, expect, it } from 'vitest';
import { setupFrom } from '../../contract/index.ts';
import { conditionOf, meniscusShapes, planFor } from '../../core/plan/index.ts';
import { exampleSetup } from './example-setup.ts';
import { type Planned, tipPicture } from './tip-picture.ts';

const setup = setupFrom(exampleSetup);
const { tip, jetLiquid } = conditionOf(setup);
const done: Planned = {
  setup,
  plan: planFor(setup),
  shapes: meniscusShapes(tip, jetLiquid.surfaceTension),
};
const onset_V = done.plan.meniscus.kind === 'solved' ? done.plan.meniscus.onset_V : Number.NaN;
const at = (more: Partial<Parameters<typeof tipPicture>[0]>) =>
  tipPicture({ setup, done, standing: 'whole', volts: 0.8 * onset_V, onset_V, jet_nm: 500, ...more });
const withMeniscus = (kind: 'no equilibrium' | 'solver failed'): Planned => ({
  setup,
  plan: { ...done.plan, meniscus: { kind, reason: 'as told', closed_form_V: 1000 } },
  shapes: undefined,
});

describe('what the tip view may be called', () => {
  it('is solved below the turn and composed above it, with the reason', () => {
    expect(onset_V).toBeGreaterThan(500);
    expect(at({})).toMatchObject({
      truth: 'solved',
      label: 'meniscus solved',
      grey: false,
      jet_nm: undefined,
    });
    const above = at({ volts: 1.2 * onset_V });
    expect(above).toMatchObject({ truth: 'composed', label: 'composed, not solved', jet_nm: 500 });
    expect(above.reason).toContain('above the turning point');
    // A first estimate's shape is the stated place's own solve already.
    expect(at({ standing: 'first estimate' }).truth).toBe('solved');
  });

  it('never says solved of values that are not on the page, and follows the chosen voltage', () => {
    const dragged = { ...setup, emitter: { ...setup.emitter, rim_um: 48 } };
    const pending = at({ standing: 'computing', setup: dragged });
    expect(pending).toMatchObject({ truth: 'being solved', label: 'being solved…', grey: true });
    const [before, shown] = [at({}).shape, pending.shape];
    if (before.kind !== 'outline' || shown.kind !== 'outline') throw new Error('no outline');
    // The rim of 24 µm is now 48 µm: the outline of the same voltage, twice as large.
    expect(shown.outline.composed).toBe(false);
    expect(shown.outline.r_um.at(-1)! / before.outline.r_um.at(-1)!).toBeCloseTo(2, 12);
    expect(at({ standing: 'computing', volts: 1.2 * onset_V }).jet_nm).toBe(500);
    expect(at({ standing: 'faulty' })).toMatchObject({ truth: 'last without faults', grey: true });
    // Distance and liquid change no line of the emitter, and still nothing is called solved.
    expect(at({ standing: 'computing' }).label).toBe('being solved…');
  });

  it('tells no equilibrium from a failed solver', () => {
    const none = at({ done: withMeniscus('no equilibrium') });
    expect(none.shape.kind).toBe('none');
    expect(none.label).toBe('no equilibrium exists');
    expect(none.reason).toContain('No equilibrium exists');
    const failed = at({ done: withMeniscus('solver failed'), volts: 2 * onset_V });
    expect(failed.shape.kind).toBe('cone');
    expect(failed.label).toContain('solver failed');
    expect(failed.reason).toContain('does not say that no shape exists');
    expect(failed.reason).not.toContain('turning point');
    expect(at({ done: withMeniscus('solver failed') }).shape.kind).toBe('cap');
  });

  it('says where the contact line lies outside the view', () => {
    const flooded = { ...setup, emitter: { ...setup.emitter, wets: 'shank' as const } };
    const picture = at({ setup: flooded, done: { ...done, setup: flooded } });
    expect(picture.truth).toBe('contact line outside');
    expect(picture.shape.kind).toBe('cap');
  });
});
