/** Sentences that name an option of the command line, told by the field of this page that takes the same. */
const FIELDS: Record<string, string> = {
  '--steady_nA': 'Your own steady reading',
  '--flow-off_nA': 'Voltage on, flow off',
  '--voltage-at': 'Voltage read at',
  '--resistor_MOhm': 'Resistor the current runs through',
  '--full-scale_nA': 'Current at full scale',
  '--column': 'Column of the current',
  '--unit': 'Its unit',
  '--time-column': 'Column of the time',
  '--time-unit': 'Unit of the time',
  '--voltage-column': 'Column of the voltage',
  '--voltage-unit': 'Unit of the voltage',
  '--rate': 'Samples per second',
  '--delimiter': 'Between cells',
  '--decimal': 'Decimal sign',
  '--step': 'Worth of one stored step',
  '--walk': 'Steps of the voltage',
};

export function pageWords(line: string): string {
  return line.replace(/--[a-z][\w-]*/g, (option) => {
    const field = FIELDS[option];
    return field === undefined ? option : `“${field}”`;
  });
}
