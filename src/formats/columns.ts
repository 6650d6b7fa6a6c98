/**
 * Growable typed columns for the MS1 rows of a run: a row costs 64 bytes. They grow fourfold, since room that nothing was
 * written to takes no memory of the machine, and the narrower columns left behind do until they are given back.
 */
type Column = Float64Array | Uint32Array | Int8Array | Uint16Array | Uint8Array;

export interface Ms1Row {
  time_s: number;
  tic_stated: number;
  tic_summed: number;
  base_peak: number;
  peak_count: number;
  injection_ms: number;
  polarity: number;
  window_low: number;
  window_high: number;
  analyser: number;
  profile: number;
}

/** The columns of a `RunRecord`, each as long as there are rows. */
export interface Ms1Columns {
  time_s: Float64Array;
  tic_stated: Float64Array;
  tic_summed: Float64Array;
  base_peak: Float64Array;
  peak_count: Uint32Array;
  injection_ms: Float64Array;
  polarity: Int8Array;
  window_low: Float64Array;
  window_high: Float64Array;
  analyser: Uint16Array;
  profile: Uint8Array;
}

const FIRST_ROWS = 1024;
const GROWTH = 4;

export class Ms1Table {
  count = 0;
  #columns: Ms1Columns = emptyColumns(FIRST_ROWS);

  push(row: Ms1Row): void {
    if (this.count === this.#columns.time_s.length) this.#grow();
    const { count } = this;
    const columns = this.#columns;
    columns.time_s[count] = row.time_s;
    columns.tic_stated[count] = row.tic_stated;
    columns.tic_summed[count] = row.tic_summed;
    columns.base_peak[count] = row.base_peak;
    columns.peak_count[count] = row.peak_count;
    columns.injection_ms[count] = row.injection_ms;
    columns.polarity[count] = row.polarity;
    columns.window_low[count] = row.window_low;
    columns.window_high[count] = row.window_high;
    columns.analyser[count] = row.analyser;
    columns.profile[count] = row.profile;
    this.count += 1;
  }

  /** Columns cut to length; the table must not be used afterwards. */
  columns(): Ms1Columns {
    const cut = emptyColumns(0);
    for (const name of COLUMN_NAMES) assign(cut, name, this.#columns[name].subarray(0, this.count));
    return cut;
  }

  #grow(): void {
    const wider = emptyColumns(this.count * GROWTH);
    for (const name of COLUMN_NAMES) wider[name].set(this.#columns[name]);
    this.#columns = wider;
  }
}

/** A growable list of numbers for the traces of pressure and flow. */
export class Numbers {
  length = 0;
  #values = new Float64Array(256);

  push(value: number): void {
    if (this.length === this.#values.length) {
      const wider = new Float64Array(this.length * 2);
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.length] = value;
    this.length += 1;
  }

  cut(): Float64Array {
    return this.#values.slice(0, this.length);
  }
}

const COLUMN_NAMES = [
  'time_s',
  'tic_stated',
  'tic_summed',
  'base_peak',
  'peak_count',
  'injection_ms',
  'polarity',
  'window_low',
  'window_high',
  'analyser',
  'profile',
] as const satisfies readonly (keyof Ms1Columns)[];

function emptyColumns(rows: number): Ms1Columns {
  return {
    time_s: new Float64Array(rows),
    tic_stated: new Float64Array(rows),
    tic_summed: new Float64Array(rows),
    base_peak: new Float64Array(rows),
    peak_count: new Uint32Array(rows),
    injection_ms: new Float64Array(rows),
    polarity: new Int8Array(rows),
    window_low: new Float64Array(rows),
    window_high: new Float64Array(rows),
    analyser: new Uint16Array(rows),
    profile: new Uint8Array(rows),
  };
}

function assign(columns: Ms1Columns, name: keyof Ms1Columns, values: Column): void {
  (columns as unknown as Record<string, Column>)[name] = values;
}
