/**
 * One grammar for every refusal: `missing|invalid|unknown|out of range <thing>: <value and unit>; expected <…>`.
 * Several faults of one document travel together.
 */
export type FaultKind = 'missing' | 'invalid' | 'unknown' | 'out of range';

export interface Fault {
  kind: FaultKind;
  /** Path of the value, dotted: `emitter.bore_um`. */
  where: string;
  /** What was found, with its unit; empty for `missing`. */
  found: string;
  expected: string;
}

export function faultLine(fault: Fault): string {
  const found = fault.found === '' ? '' : `: ${fault.found}`;
  return `${fault.kind} ${fault.where}${found}; expected ${fault.expected}`;
}

/** Bad input from a person or a file. `message` holds one line for each fault. */
export class InputError extends Error {
  readonly faults: readonly Fault[];
  constructor(faults: readonly Fault[]) {
    super(faults.map(faultLine).join('\n'));
    this.name = 'InputError';
    this.faults = faults;
  }
}

export function inputError(kind: FaultKind, where: string, found: string, expected: string): InputError {
  return new InputError([{ kind, where, found, expected }]);
}
