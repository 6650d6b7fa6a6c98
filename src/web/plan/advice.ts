/** What must be said of a voltage that is only looked at, of an advised one near its limit, and of the limit itself. */
import { HIGH_SUPPLY_V } from '../../core/plan/advice-withheld.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { figure, withUnit } from '../words.ts';

/** What must stand beside a tip voltage that the picture shows; undefined where the advice reaches. */
export function voltageCaution(plan: Plan, volts: number): string | undefined {
  const { discharge_V, several_jets_V } = plan.window;
  const at = withUnit(figure(volts), 'V');
  const end = 'This is a picture, not an advice: do not set it.';
  if (discharge_V !== null && volts >= discharge_V.value)
    return `${at} is past the discharge limit of about ${withUnit(figure(discharge_V.value), 'V')}. ${end}`;
  if (volts > HIGH_SUPPLY_V) return `${at} is above what any advice here stands on. ${end}`;
  if (volts > several_jets_V.high)
    return `${at} is above the window: several jets or worse are likely. ${end}`;
  return discharge_V !== null && volts >= discharge_V.low ? mayBegin(discharge_V.low) : undefined;
}

/** What must stand beside an advised tip voltage whose range reaches where a discharge may begin. */
export function advisedCaution({ advised_V, window: { discharge_V } }: Plan): string | undefined {
  return discharge_V !== null && advised_V.high >= discharge_V.low ? mayBegin(discharge_V.low) : undefined;
}

function mayBegin(from_V: number): string {
  return `a discharge may begin from ${withUnit(figure(from_V), 'V')} at the tip: small steps, hands clear, stop at noise, light or a smell of ozone.`;
}

/** The limit that no advice passes, in words. */
export function dischargeWords({ window }: Plan, polarity: string): string {
  const { discharge_V, voltage_V } = window;
  const weak = polarity === 'negative' ? '; weakly known in negative polarity' : '';
  return discharge_V === null
    ? `No discharge is expected up to ${withUnit(figure(voltage_V.at(-1)), 'V')} in ${polarity} polarity${weak}.`
    : `In ${polarity} polarity a discharge may begin from ${withUnit(figure(discharge_V.low), 'V')} at the tip and is expected from ${withUnit(figure(discharge_V.value), 'V')}: never go past it${weak}.`;
}
