/** An invented run with a pressure trace in its file, and a set-up whose gradient fits its 12 minutes. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { base64, float64Bytes } from '../../src/rehearsal/base64.ts';
import { inventedRun, inventedRunTruth } from '../../src/rehearsal/index.ts';

const LENGTH_MIN = 12;
const ELUTION_END_S = 480;
const examples = fileURLToPath(new URL('../../examples', import.meta.url));

/** YAML: elution from 1 to 8 min, wash to 10 min; no volumes, so the table is not moved. */
export const methodSetupText = readFileSync(join(examples, 'gradient-proteomics.yaml'), 'utf8')
  .replace(/^name: .*$/m, 'name: Short gradient (invented)')
  .replace(
    / {2}table:[\s\S]*$/,
    `  table:
    - { time_min: 0, percent_B: 3 }
    - { time_min: 1, percent_B: 3 }
    - { time_min: 8, percent_B: 40 }
    - { time_min: 8.5, percent_B: 100 }
    - { time_min: 10, percent_B: 100 }
    - { time_min: 10.2, percent_B: 3 }
    - { time_min: 12, percent_B: 3 }
`,
  );

export interface RunWithPressure {
  text: string;
  /** The longest planted fall of the elution; the pressure falls by a quarter meanwhile. */
  fall: { start_s: number; end_s: number };
}

export function runWithPressure(seed: number): RunWithPressure {
  const options = { seed, length_min: LENGTH_MIN };
  const fall = inventedRunTruth(options)
    .faults.filter(({ end_s }) => end_s < ELUTION_END_S)
    .toSorted((a, b) => b.end_s - b.start_s - (a.end_s - a.start_s))[0]!;
  const time = Array.from({ length: 60 * LENGTH_MIN }, (_, i) => i);
  const pressure = time.map(
    (t) => (t >= fall.start_s && t < fall.end_s ? 150 : 200) + 2 * Math.sin(12.9 * t) * Math.cos(7.7 * t),
  );
  const array = (kind: string, name: string, values: readonly number[], unit: string) => {
    const text = base64(float64Bytes(values));
    return `<binaryDataArray encodedLength="${text.length}"><cvParam cvRef="MS" accession="${kind}" name="${name}" ${unit}/><cvParam cvRef="MS" accession="MS:1000523" name="64-bit float"/><cvParam cvRef="MS" accession="MS:1000576" name="no compression"/><binary>${text}</binary></binaryDataArray>`;
  };
  const list = `<chromatogramList count="1"><chromatogram index="0" id="pump" defaultArrayLength="${time.length}"><cvParam cvRef="MS" accession="MS:1003019" name="pressure chromatogram"/><binaryDataArrayList count="2">${array('MS:1000595', 'time array', time, 'unitAccession="UO:0000010" unitName="second"')}${array('MS:1000821', 'pressure array', pressure, 'unitAccession="UO:0000110" unitName="bar"')}</binaryDataArrayList></chromatogram></chromatogramList>`;
  return { text: [...inventedRun(options)].join('').replace('  </run>', `${list}\n  </run>`), fall };
}
