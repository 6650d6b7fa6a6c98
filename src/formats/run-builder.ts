/** What both readers share: rows, counts by level, traces and warnings on their way to a `RunRecord`. */
import { type Ms1Row, Ms1Table } from './columns.ts';
import type { RunRecord } from './run-record.ts';
import { WarningTally } from './warning-tally.ts';
import { Break } from './xml-sink.ts';

/** Highest MS level counted; a higher one is a damaged number. */
const HIGHEST_LEVEL = 20;
/** Most analysers told apart; more means that the file numbers its scans there. */
const MOST_ANALYSERS = 64;
/** Most rows: ten a second for four days and more; 300 MB. A file of more is made to fill the memory. */
const MOST_ROWS = 4_000_000;
const OTHER_ANALYSER = 'other';

export type Trace = RunRecord['traces'][number];

export class RunBuilder {
  readonly tally = new WarningTally();
  readonly traces: Trace[] = [];
  invented = false;
  readonly #table = new Ms1Table();
  readonly #levels: number[] = [0];
  readonly #analysers: string[] = [];
  readonly #configurations: string[] = [];
  #lastTime_s = Number.NaN;
  readonly #mostRows: number;
  #spectra = 0;
  #chromatograms = 0;
  /** What the file announces to hold; NaN where it does not. */
  #announced = Number.NaN;

  constructor(mostRows = MOST_ROWS) {
    this.#mostRows = mostRows;
  }

  /** Called at the start of each spectrum and chromatogram, so that warnings can name their place. */
  begin(kind: 'spectrum' | 'chromatogram'): void {
    this.tally.enter(kind, kind === 'spectrum' ? ++this.#spectra : ++this.#chromatograms);
  }

  announce(spectra: number): void {
    if (!Number.isNaN(spectra))
      this.#announced = spectra + (Number.isNaN(this.#announced) ? 0 : this.#announced);
  }

  /** Counts a spectrum; returns its level, 0 when it has none that makes sense. */
  spectrum(stated: number): number {
    const level = stated >= 1 && stated <= HIGHEST_LEVEL ? stated : 0;
    if (level === 0) this.tally.add('level_missing');
    while (this.#levels.length <= level) this.#levels.push(0);
    this.#levels[level]! += 1;
    return level;
  }

  /** Returns the row's place in the record. */
  ms1(row: Ms1Row): number {
    if (this.#table.count === this.#mostRows) throw new Break('more than 4 million MS1 spectra');
    if (row.time_s < 0) this.tally.add('time_negative');
    if (row.time_s < this.#lastTime_s) this.tally.add('time_backward');
    else if (row.time_s === this.#lastTime_s) this.tally.add('time_repeated');
    if (!Number.isNaN(row.time_s)) this.#lastTime_s = row.time_s;
    if (row.tic_stated < 0) this.tally.add('tic_negative');
    if (row.tic_stated === 0 && row.tic_summed > 0) this.tally.add('tic_zero');
    if (row.injection_ms < 0) {
      this.tally.add('injection_negative');
      row.injection_ms = Number.NaN;
    }
    this.#table.push(row);
    return this.#table.count - 1;
  }

  /**
   * Index of the analyser: the first word of the filter string where that is a word, else the instrument configuration,
   * by its order in the file because its own name may be that of an instrument.
   */
  analyser(filter: string, configuration: string): number {
    const word = /^[A-Za-z]{2,12}(?=\s|$)/.exec(filter.trim())?.[0];
    if (word !== undefined) return this.#analyserIndex(word);
    if (configuration === '') return this.#analyserIndex('unknown');
    let order = this.#configurations.indexOf(configuration);
    if (order < 0 && this.#configurations.length < MOST_ANALYSERS) {
      order = this.#configurations.push(configuration) - 1;
    }
    return this.#analyserIndex(order < 0 ? OTHER_ANALYSER : `configuration ${order + 1}`);
  }

  record(format: RunRecord['format'], broken: RunRecord['broken'], warnings: readonly string[]): RunRecord {
    // A run without injection times is a common one.
    if (this.tally.count('injection_missing') === this.#table.count) this.tally.forget('injection_missing');
    return {
      format,
      ms1_count: this.#table.count,
      ...this.#table.columns(),
      analysers: this.#analysers,
      spectra_by_level: this.#levels,
      traces: this.traces,
      invented: this.invented,
      warnings: [...this.tally.sentences(), ...(broken ? [] : this.#countWarning()), ...warnings],
      ...(broken ? { broken } : {}),
    };
  }

  /** Of a file that breaks off the break tells more. */
  #countWarning(): string[] {
    const [stated, met] = [this.#announced, this.#spectra];
    if (Number.isNaN(stated) || stated === met) return [];
    const spectra = met === 1 ? '1 spectrum' : `${met} spectra`;
    return [`The file announces ${stated} and holds ${spectra}; what is there was read.`];
  }

  #analyserIndex(name: string): number {
    const known = this.#analysers.indexOf(name);
    if (known >= 0) return known;
    if (this.#analysers.length > MOST_ANALYSERS && name !== OTHER_ANALYSER)
      return this.#analyserIndex(OTHER_ANALYSER);
    return this.#analysers.push(name) - 1;
  }
}
