/**
 * Faults of a run file are counted while reading and told once, as one sentence each, with the place of the first: spectra
 * (of every MS level) and chromatograms are numbered from 1 in the order of the file. The sentences name no person, path or
 * instrument.
 */
const SENTENCES = {
  level_missing: ['spectrum', 'spectra', 'without a readable MS level; left out of the MS1 rows'],
  group_missing: ['reference', 'references', 'to a parameter group that the file does not hold'],
  group_long: ['parameter', 'parameters', 'beyond the thousandth of a parameter group; left out'],
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
  window_not_number: [
    'MS1 spectrum',
    'MS1 spectra',
    'with a limit of the scan window that is not a number; the limit is left empty',
  ],
  base_peak_not_number: [
    'MS1 spectrum',
    'MS1 spectra',
    'with a stated base peak that is not a number; it is left empty',
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
  injection_missing: ['MS1 spectrum', 'MS1 spectra', 'without an injection time, though others have one'],
  injection_negative: ['MS1 spectrum', 'MS1 spectra', 'with a negative injection time; it is left empty'],
  numpress: [
    'intensity array',
    'intensity arrays',
    'in MS-Numpress that could not be read; the stated TIC is used',
  ],
  zstd: [
    'intensity array',
    'intensity arrays',
    'in zstd compression, for which this machine has no decoder; the stated TIC is used',
  ],
  zstd_dictionary: [
    'intensity array',
    'intensity arrays',
    'in dictionary-encoded zstd compression, which is not read; the stated TIC is used',
  ],
  zstd_damaged: [
    'intensity array',
    'intensity arrays',
    'with zstd data damaged or longer than declared; the sum is left empty',
  ],
  too_long: [
    'intensity array',
    'intensity arrays',
    'declared longer than 8 million values, more than any spectrum has; the sum is left empty',
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
  array_second: ['MS1 spectrum', 'MS1 spectra', 'with more than one intensity array; the first one is read'],
  array_missing: ['MS1 spectrum', 'MS1 spectra', 'without an intensity array; the sum is left empty'],
  mz_unread: [
    'MS1 spectrum',
    'MS1 spectra',
    'without a readable m/z array as long as the intensities; its peaks are not followed',
  ],
  mz_value: ['m/z array', 'm/z arrays', 'holding a value that is not a positive number'],
  mz_order: ['m/z array', 'm/z arrays', 'whose values do not rise'],
  trace_unread: [
    'pressure or flow trace',
    'pressure or flow traces',
    'without readable times in a known unit and values of equal length; left out',
  ],
  trace_unit: ['pressure or flow trace', 'pressure or flow traces', 'whose values have no unit'],
  trace_value: [
    'pressure or flow trace',
    'pressure or flow traces',
    'holding a time or a value that is not a number; left out',
  ],
  trace_backward: ['pressure or flow trace', 'pressure or flow traces', 'whose times run backward; left out'],
  trace_surplus: [
    'pressure or flow trace',
    'pressure or flow traces',
    'beyond the 16 traces and 4 million points that are kept; left out',
  ],
} as const;

export type WarningKey = keyof typeof SENTENCES;

interface Told {
  count: number;
  place: string;
}

export class WarningTally {
  readonly #told = new Map<WarningKey, Told>();
  #kind = '';
  #number = 0;

  /** What is read from here on stands in this spectrum or chromatogram, numbered from 1; kind '' for neither. */
  enter(kind: 'spectrum' | 'chromatogram' | '', number = 0): void {
    this.#kind = kind;
    this.#number = number;
  }

  add(key: WarningKey): void {
    const told = this.#told.get(key);
    if (told !== undefined) told.count += 1;
    else this.#told.set(key, { count: 1, place: this.#kind === '' ? '' : `${this.#kind} ${this.#number}` });
  }

  forget(key: WarningKey): void {
    this.#told.delete(key);
  }

  count(key: WarningKey): number {
    return this.#told.get(key)?.count ?? 0;
  }

  /** One sentence for each kind met, in the order of the table above. */
  sentences(): string[] {
    const sentences: string[] = [];
    for (const [key, [one, many, rest]] of Object.entries(SENTENCES)) {
      const told = this.#told.get(key as WarningKey);
      if (told === undefined) continue;
      const { count, place } = told;
      const where = place === '' ? '' : ` (${count === 1 ? '' : 'the first: '}${place})`;
      sentences.push(`${count} ${count === 1 ? one : many} ${rest}${where}.`);
    }
    return sentences;
  }
}
