import { NumberInput } from '@mantine/core';
import { useState } from 'react';
import { type PeriodInput, periodMeaning } from '../../core/causes/index.ts';
import { InputError } from '../../core/errors.ts';

type Field = '' | number;

/** Period arithmetic: what 'every 13 s' would mean as a drop, a stroke, a step, a bubble or a folded swing. */
export function PeriodPart({ period_s }: { period_s: number | undefined }) {
  const [period, setPeriod] = useState<Field>(period_s ?? '');
  const [flow, setFlow] = useState<Field>('');
  const [scan, setScan] = useState<Field>('');
  const [bore, setBore] = useState<Field>('');
  const said =
    period === '' || flow === ''
      ? undefined
      : sentences({
          period_s: period,
          flow_nL_min: flow,
          ...(scan === '' ? {} : { scan_interval_s: scan }),
          ...(bore === '' ? {} : { plunger_bore_mm: bore }),
        });
  const field = (label: string, value: Field, set: (value: Field) => void) => (
    <NumberInput
      label={label}
      value={value}
      min={0}
      hideControls
      onChange={(next) => set(typeof next === 'number' ? next : next.trim() === '' ? '' : Number(next))}
    />
  );
  return (
    <section className="section" aria-labelledby="period">
      <h2 id="period">It repeats every … seconds</h2>
      <div className="fields" style={{ maxWidth: '46rem' }}>
        {field('Period, s', period, setPeriod)}
        {field('Flow, nL/min', flow, setFlow)}
        {field('From scan to scan, s (optional)', scan, setScan)}
        {field('Bore of syringe or pump, mm (optional)', bore, setBore)}
      </div>
      <div role="status">
        {said && (
          <ul>
            {said.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
      </div>
    </section>
  );
}

function sentences(input: PeriodInput): string[] {
  try {
    return periodMeaning(input).sentences;
  } catch (trouble) {
    if (trouble instanceof InputError) return [trouble.message];
    throw trouble;
  }
}
