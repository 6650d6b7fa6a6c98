/**
 * A recorded trace of the spray current as the readers hand it on: a head, then blocks of samples in SI (A, V, Pa), then an
 * end with what was found on the way. Memory does not grow with the file. Sample times are even inside a block.
 */
import type { StoredSamples } from './stored-samples.ts';

export type TraceQuantity = 'current' | 'voltage' | 'pressure';

export interface TraceChannel {
  quantity: TraceQuantity;
  /** The column's heading or the channel's name, as the file writes it. */
  name: string;
  /** As the file or the person states it. */
  unit: string;
  /** Multiplies a stored number into A, V or Pa. */
  scale: number;
}

export type TraceKind = 'table' | 'wav' | 'raw';

export interface TraceHead {
  kind: TraceKind;
  rate_Hz: number;
  rate_from: 'given' | 'time column' | 'file header';
  /** Time of the first sample [s]; 0 where the file has no time column. */
  start_s: number;
  channels: TraceChannel[];
  /** Stated in the sidecar of raw samples. */
  bandwidth_Hz?: number;
  /** Marked by a comment line or the sidecar as made up. */
  invented: boolean;
  /** Where the current stands in the file; a table has no such places. */
  stored?: StoredSamples;
  /** What was decided about the file, in words. */
  notes: string[];
}

/** The arrays are used again for the next block: copy what must last. NaN stands where a sample is missing. */
export interface TraceBlock {
  /** Index of the first sample of this block, counted from the file's first. */
  first: number;
  count: number;
  /** Time of the first sample [s]. */
  start_s: number;
  /** Time missing between the block before and this one [s]; 0 where they join. */
  gap_s: number;
  current: Float64Array;
  voltage?: Float64Array;
  pressure?: Float64Array;
}

export interface TraceGap {
  at_s: number;
  length_s: number;
}

export interface TraceEnd {
  samples: number;
  /** Samples without a number. */
  missing: number;
  /** Stretches without samples by the time column; the first GAPS_LISTED of them. */
  gaps: TraceGap[];
  gap_count: number;
  /** Lines that could not be read, with the first of them. */
  bad_lines: number;
  first_bad_line?: { line: number; text: string };
  /** The file ended inside a sample or a line, or before the length its header states. */
  cut_short?: string;
  warnings: string[];
}

export interface TraceSink {
  head(head: TraceHead): void;
  block(block: TraceBlock): void;
}

export interface TraceReader {
  /** Bytes of the file in order. Throws InputError where the file cannot be understood without being told more. */
  push(bytes: Uint8Array): void;
  end(): TraceEnd;
}

export type DelimiterName = 'comma' | 'semicolon' | 'tab' | 'space';

/** Every value settles one ambiguity; none is needed where the file says it itself. */
export interface TraceOptions {
  /** Column of the current by its heading or its number from 1; for WAV and raw samples the channel's number. */
  column?: string | undefined;
  time_column?: string | undefined;
  voltage_column?: string | undefined;
  pressure_column?: string | undefined;
  unit?: string | undefined;
  time_unit?: string | undefined;
  voltage_unit?: string | undefined;
  pressure_unit?: string | undefined;
  rate_Hz?: number | undefined;
  delimiter?: DelimiterName | undefined;
  decimal?: 'comma' | 'point' | undefined;
  /** WAV and integer samples: the current at full scale. */
  full_scale_nA?: number | undefined;
  /** Raw samples whose sidecar gives the current no scale: what one stored step is worth in its unit. */
  raw_step?: number | undefined;
  /** The column holds the voltage across this resistor. */
  resistor_MOhm?: number | undefined;
  /** How raw samples are laid out. */
  sidecar?: RawSidecar | undefined;
}

export type RawFormat = 'int16' | 'int32' | 'float32' | 'float64';

export interface RawChannel {
  quantity: TraceQuantity | 'other';
  name: string;
  unit: string;
  /** value in `unit` = stored * scale + offset. */
  scale: number;
  offset: number;
}

/** Little-endian samples, channels interleaved. */
export interface RawSidecar {
  format: RawFormat;
  rate_Hz: number;
  header_bytes: number;
  channels: RawChannel[];
  bandwidth_Hz?: number;
  invented: boolean;
}

export const GAPS_LISTED = 200;
export const BLOCK_SAMPLES = 1 << 16;
