import { describe, expect, it } from 'vitest';
import { setupFrom } from '../../contract/index.ts';
import { HIGH_SUPPLY_V } from '../../core/plan/advice-withheld.ts';
import { planFor, windowPicture } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { advisedCaution, dischargeWords, voltageCaution } from './advice.ts';
import { differences } from './differences.ts';
import { exampleSetup } from './example-setup.ts';
import { rulerCsv, rulerRows } from './ruler-rows.ts';

const setup = setupFrom(exampleSetup);
const plan = planFor(setup);
const discharge = { ...plan.advised_V, value: 2400, low: 2000, high: 3000 };
const withDischarge = (discharge_V: typeof discharge | null): Plan => ({
  ...plan,
  window: { ...plan.window, discharge_V },
});
const noVoltage: Plan = { ...plan, advice_withheld: 'no single voltage holds the elution' };

describe('none advised', () => {
  it('leaves no advice on ruler, chances or comparison', () => {
    const row = rulerRows(noVoltage, setup, false, undefined).find(({ key }) => key === 'advised');
    expect(row).toEqual({ key: 'advised', label: 'none advised' });
    expect(rulerCsv(noVoltage, setup)).toContain('\nadvised at the tip,,,,none\n');
    const words = windowPicture(noVoltage, 900).marks.flatMap(({ text }) => text ?? []);
    expect(words.some((text) => text.startsWith('advised'))).toBe(false);
    const advised = differences(plan, noVoltage).find(({ key }) => key === 'advised_supply_V');
    expect(advised).toMatchObject({ now: undefined, words: 'only put aside', differs: true });
  });
});

describe('voltages that are looked at', () => {
  it('carry a caution where a discharge may begin, past it, and above what advice stands on', () => {
    const near = withDischarge(discharge);
    expect(voltageCaution(near, 1900)).toBeUndefined();
    expect(voltageCaution(near, 2100)).toContain('a discharge may begin from 2');
    expect(voltageCaution(near, 2500)).toContain('past the discharge limit');
    expect(voltageCaution(near, 2500)).toContain('do not set it');
    expect(voltageCaution(withDischarge(null), HIGH_SUPPLY_V + 1)).toContain('above what any advice');
    expect(advisedCaution(near)).toContain('hands clear');
    expect(advisedCaution(withDischarge(null))).toBeUndefined();
  });
});

describe('the discharge limit on the ruler', () => {
  it('is marked by polarity, and said where there is none', () => {
    const row = rulerRows(withDischarge(discharge), setup, false, undefined)[2];
    expect(row?.label).toMatch(/^discharge limit, positive, 2.400.V/);
    expect(row?.estimate?.value).toBe(2400);
    const negative = { ...setup, polarity: 'negative' as const };
    expect(rulerRows(withDischarge(discharge), negative, true, undefined)[2]?.label).toContain('negative');
    expect(rulerRows(withDischarge(null), setup, false, undefined)[2]).toEqual({
      key: 'discharge',
      label: 'discharge limit, positive: none expected at these voltages',
    });
    expect(dischargeWords(withDischarge(discharge), 'negative')).toContain('weakly known');
    expect(rulerCsv(withDischarge(discharge), negative)).toMatch(
      /\n"discharge limit, negative polarity",2400,2000,3000,/,
    );
  });

  it('holds the advice back while solves are running', () => {
    const row = rulerRows(plan, setup, false, 'follows with the last solves').find(
      ({ key }) => key === 'advised',
    );
    expect(row?.estimate).toBeUndefined();
    expect(row?.label).toContain('follows with the last solves');
  });
});
