/** Short plain titles for what the bench keeps, and the words a search looks through. */
import type { Plan } from '../core/plan/plan.ts';
import type { EmitterSpec, LiquidSpec, Setup } from '../core/setup.ts';

export function emitterTitle(emitter: EmitterSpec): string {
  return `${emitter.bore_um} µm bore, ${emitter.rim_um} µm rim, ${oneLine(emitter.material)}`;
}

export function setupTitle(setup: Setup): string {
  const name = oneLine(setup.name ?? '');
  if (name !== '') return name;
  const feed =
    setup.feed.kind === 'pumped'
      ? `${setup.feed.flow_nL_min} nL/min`
      : `${setup.feed.back_pressure_mbar} mbar back pressure`;
  return `${setup.emitter.bore_um} µm bore, ${feed}, ${setup.inlet.distance_mm} mm to the inlet`;
}

export function planTitle(plan: Plan): string {
  const { kind } = plan.electric_state;
  if (kind === 'no cone-jet at this supply and contact' || kind === 'no equilibrium') return kind;
  return `onset ${Math.round(plan.onset_V.value)} V, advised ${Math.round(plan.advised_V.value)} V at the tip`;
}

export function liquidWords(liquid: LiquidSpec): string {
  const parts = [
    ['acetonitrile', liquid.acetonitrile_percent],
    ['methanol', liquid.methanol_percent],
    ['2-propanol', liquid.propanol_2_percent],
  ] as const;
  const words = parts.flatMap(([name, percent]) => (percent > 0 ? [`${percent} % ${name}`] : []));
  return ['water', ...words, ...(liquid.additive === 'none' ? [] : [liquid.additive])].join(' ');
}

export function searchWords(...words: (string | undefined)[]): string {
  return words
    .filter((word) => word !== undefined && word !== '')
    .join(' ')
    .toLowerCase();
}

/** Control characters and line breaks become spaces: titles stand in one line of a terminal. */
export function oneLine(text: string, length = 160): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
  const flat = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ').trim();
  return flat.length > length ? `${flat.slice(0, length - 1)}…` : flat;
}
