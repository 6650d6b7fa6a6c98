import { describe, expect, it } from 'vitest';
import { madeRecord } from '../../test/kit/made-record.ts';
import { randomStream } from '../core/random.ts';
import { pictureSvg } from './queue/picture.ts';
import { walkPicture } from './queue/walk-picture.ts';
import { readRun } from './read-run.ts';
import { readWalk, type WalkStep } from './walk.ts';
import { walkCsv, walkText } from './walk-out.ts';

const STEP_S = 60;

/** Level and scatter by voltage: nothing below 1150 V, unsteady at 1200 V and from 1600 V on, steady between. */
function spray(voltage_V: number, lit: number): { level: number; scatter: number } {
  if (voltage_V < lit) return { level: 0.01, scatter: 0.3 };
  const ragged = voltage_V < lit + 75 || voltage_V >= 1600;
  return { level: 1, scatter: ragged ? 0.35 : 0.04 };
}

function walked(voltages: readonly number[], lit: (i: number) => number) {
  const draw = randomStream(9, 'walk');
  const steps: WalkStep[] = voltages.map((voltage_V, i) => ({ time_s: i * STEP_S, voltage_V }));
  const scans = voltages.flatMap((voltage_V, i) =>
    Array.from({ length: STEP_S }, (_, k) => {
      const { level, scatter } = spray(voltage_V, lit(i));
      // The first seconds of a step still answer to the jump of the voltage.
      return { time_s: i * STEP_S + k, tic: 1e7 * (k < 5 ? 30 : level * draw.factor(scatter)) };
    }),
  );
  return readWalk(readRun(madeRecord(scans)), steps, 'supply');
}

const up = Array.from({ length: 14 }, (_, i) => 1050 + 50 * i);

describe('a voltage walk', () => {
  it('gives onset and both edges as the pairs of steps they lie between', () => {
    const walk = walked(up, () => 1150);
    expect(walk.sweeps).toHaveLength(1);
    const [sweep] = walk.sweeps;
    expect(sweep!.onset).toEqual({ above_V: 1100, at_most_V: 1150 });
    expect(sweep!.lower).toEqual({ above_V: 1200, at_most_V: 1250 });
    expect(sweep!.upper).toEqual({ above_V: 1550, at_most_V: 1600 });
    expect(sweep!.steps.every((step) => step.scans > 50 && step.scans < STEP_S)).toBe(true);
    const steady = sweep!.steps.find((step) => step.voltage_V === 1400)!;
    // Five seconds to settle of sixty.
    expect(steady.scans).toBe(55);
    expect(steady.scatter!.low).toBeLessThan(0.04);
    expect(steady.scatter!.high).toBeGreaterThan(0.04);
    expect(steady.level!.low).toBeLessThan(1e7);
    expect(steady.level!.high).toBeGreaterThan(1e7);
  });

  it('keeps up and down apart', () => {
    const voltages = [...up.slice(0, 10), ...up.slice(0, 9).reverse()];
    const walk = walked(voltages, (i) => (i < 10 ? 1150 : 1100));
    expect(walk.sweeps.map((sweep) => sweep.direction)).toEqual(['up', 'down']);
    expect(walk.sweeps[1]!.onset).toEqual({ above_V: 1050, at_most_V: 1100 });
    expect(walkText(walk)).toContain('Going down: the spray ends between 1050 and 1100 V.');
    const drawn = walkPicture(walk, 900);
    expect(drawn.marks.filter((mark) => mark.shape === 'circle')).toHaveLength(20);
    expect(drawn.marks.filter((mark) => mark.shape === 'rect')).toHaveLength(20);
    expect(pictureSvg(drawn)).not.toMatch(/NaN|undefined|Infinity/);
    expect(walkCsv(walk).trimEnd().split('\r\n')).toHaveLength(1 + 10 + 10);
  });

  it('says which edge the walk did not reach', () => {
    const walk = walked([1300, 1350, 1400], () => 1150);
    const words = walk.sweeps[0]!.sentences.join(' ');
    expect(words).toContain('at or below 1300 V (the walk went no lower)');
    expect(words).toContain('1400 V or above (the walk went no higher)');
  });

  it('warns of steps outside the run and reads nothing from no step', () => {
    const record = madeRecord(Array.from({ length: 100 }, (_, i) => ({ time_s: i, tic: 1e6 })));
    const walk = readWalk(readRun(record), [
      { time_s: 0, voltage_V: 1000 },
      { time_s: 900, voltage_V: 1100 },
    ]);
    expect(walk.warnings.join(' ')).toContain('1 steps lie outside the run');
    expect(readWalk(readRun(record), []).sweeps).toEqual([]);
  });
});
