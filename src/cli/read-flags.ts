/** The options of `read`, and the numbers in them. */
import { availableParallelism } from 'node:os';
import { basename, resolve } from 'node:path';
import { loadMethodSetup, type MaskSpan, maskFrom, queueLabel } from '../app/index.ts';
import { inputError } from '../core/errors.ts';

export interface ReadFlags {
  json?: true;
  csv?: true;
  svg?: string;
  html?: string;
  mzqc?: string;
  force?: true;
  keep: boolean;
  who: string;
  queue?: true;
  deep?: true;
  watch?: true;
  ready?: true;
  steps?: string;
  mask?: string;
  setup?: string;
  voltageAt?: string;
  label?: string;
  jobs?: string;
  first?: string;
  /** Good runs of the same method, or with --queue one folder of another emitter. */
  against?: string[];
  earlier?: true;
  onAlert?: string;
  every?: string;
  settle?: string;
  once?: true;
}

export function maskOf(flags: ReadFlags): MaskSpan[] {
  return flags.mask === undefined ? [] : maskFrom(flags.mask);
}

/** The set-up whose gradient tells the phases of the runs; undefined where none was given. */
export async function methodSetup(path: string | undefined) {
  return path === undefined ? undefined : loadMethodSetup(path);
}

/** A whole number from an option's text. */
export function wholeNumber(
  text: string | undefined,
  name: string,
  low: number,
  high: number,
): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (!Number.isInteger(value) || value < low || value > high)
    throw inputError('invalid', name, text, `a whole number from ${low} to ${high}`);
  return value;
}

export function jobsOf(flags: ReadFlags): number {
  return wholeNumber(flags.jobs, 'jobs', 1, 64) ?? Math.max(1, availableParallelism());
}

export function firstOf(flags: ReadFlags): number | undefined {
  return wholeNumber(flags.first, 'first', 6, 100);
}

/** The name a queue is kept under: as told, else the folder's own. */
export function labelOf(flags: ReadFlags, folder: string): string {
  const label = queueLabel(flags.label ?? basename(resolve(folder)));
  if (label === '') throw inputError('missing', 'label', '', 'a name for the queue, with --label');
  return label;
}
