/**
 * Faults of a run file are counted while reading and told once, as one sentence each. The sentences name no person,
 * path or instrument.
 */
const SENTENCES = {
  level_missing: ['spectrum', 'spectra', 'without a readable MS level; left out of the MS1 rows'],
  group_missing: ['reference', 'references', 'to a parameter group that the file does not hold'],
  time_missing: ['MS1 spectrum', 'MS1 spectra', 'without a scan start time; the time is left empty'],
  time_unit: [
    'MS1 spectrum',
    'MS1 spectra',
    'with a scan start time in no unit or an unknown one; the time is left empty',
  ],
  time_not_number: [
    'MS1 spectrum',
    'MS1 spectra',
    'with a scan start time that is not a number; the time is left empty',
  ],
  time_negative: ['MS1 spectrum', 'MS1 spectra', 'with a negative scan start time, kept as stated'],
  time_backward: [
    'MS1 spectrum',
    'MS1 spectra',
    'with a scan start time before that of the MS1 spectrum ahead of it, kept as stated',
  ],
  time_repeated: [
    'MS1 spectrum',
    'MS1 spectra',
    'with the same scan start time as the MS1 spectrum ahead of it',
  ],
  tic_missing: ['MS1 spectrum', 'MS1 spectra', 'without a stated TIC'],
  tic_not_number: ['MS1 spectrum', 'MS1 spectra', 'with a stated TIC that is not a number'],
  tic_negative: ['MS1 spectrum', 'MS1 spectra', 'with a negative stated TIC, kept as stated'],
  tic_zero: [
    'MS1 spectrum',
    'MS1 spectra',
    'with a stated TIC of zero though it holds peaks, kept as stated',
  ],
  injection_not_number: [
    'MS1 spectrum',
    'MS1 spectra',
    'with an injection time that is not a number or in an unknown unit; it is left empty',
  ],
  injection_negative: ['MS1 spectrum', 'MS1 spectra', 'with a negative injection time; it is left empty'],
  numpress: [
    'intensity array',
    'intensity arrays',
    'in MS-Numpress that could not be read; the stated TIC is used',
  ],
  zstd: [
    'intensity array',
    'intensity arrays',
    'in zstd compression, which is not read; the stated TIC is used',
  ],
  array_type: [
    'intensity array',
    'intensity arrays',
    'without a known number type or compression; the sum is left empty',
  ],
  byte_order: ['peak list', 'peak lists', 'in a byte order other than network; the sum is left empty'],
  base64: ['intensity array', 'intensity arrays', 'with damaged base64 text; the sum is left empty'],
  zlib: [
    'intensity array',
    'intensity arrays',
    'with zlib data damaged or longer than declared; the sum is left empty',
  ],
  unequal: [
    'intensity array',
    'intensity arrays',
    'of a length other than the declared one; the sum is left empty',
  ],
  not_finite: [
    'intensity array',
    'intensity arrays',
    'holding a value that is not a number; the sum is left empty',
  ],
  negative: ['intensity array', 'intensity arrays', 'holding negative intensities, summed as stored'],
  array_missing: ['MS1 spectrum', 'MS1 spectra', 'without an intensity array; the sum is left empty'],
  mz_unread: [
    'MS1 spectrum',
    'MS1 spectra',
    'without a readable m/z array as long as the intensities; its peaks are not followed',
  ],
  mz_value: ['m/z array', 'm/z arrays', 'holding a value that is not a positive number'],
  trace_unread: ['pressure or flow trace', 'pressure or flow traces', 'that could not be read'],
} as const;

export type WarningKey = keyof typeof SENTENCES;

export class WarningTally {
  readonly #counts = new Map<WarningKey, number>();

  add(key: WarningKey): void {
    this.#counts.set(key, (this.#counts.get(key) ?? 0) + 1);
  }

  count(key: WarningKey): number {
    return this.#counts.get(key) ?? 0;
  }

  /** One sentence for each kind met, in the order of the table above. */
  sentences(): string[] {
    const told: string[] = [];
    for (const [key, [one, many, rest]] of Object.entries(SENTENCES)) {
      const count = this.count(key as WarningKey);
      if (count > 0) told.push(`${count} ${count === 1 ? one : many} ${rest}.`);
    }
    return told;
  }
}
