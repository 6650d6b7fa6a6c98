/**
 * Writes an invented run as mzML 1.1 (HUPO Proteomics Standards Initiative, Martens et al., 2011, Mol Cell Proteomics
 * 10:R110.000133, from memory), in chunks of text. The file says in its fileContent and run that it is invented; it is
 * for showing and rehearsing and is never evidence. Nothing here imitates the spectra of a sample that exists.
 */
import { type RandomStream, randomStream } from '../core/random.ts';
import { base64, float32Bytes, float64Bytes } from './base64.ts';
import { type ElutingIon, ionFlux, isotopes } from './invented-ions.ts';
import { darkFlux, type InventedRunOptions, type SprayCourse, sprayCourse } from './spray-course.ts';

/** Name of the userParam by which a reader knows an invented run. */
export const INVENTED_MARK = 'invented data';

const WINDOW = { low: 350, high: 1600 };
const MS2_WINDOW = { low: 120, high: 1600 };
/** One MS1 in so many is followed by one fragment scan, where something elutes. */
const MS2_EVERY = 5;
const MS2_PEAKS = 40;
const MS2_DELAY_S = 0.35;
/** Eluting ions fainter than this share of the background are left out of the peak list. */
const FAINTEST_SHARE = 1e-4;
const STRAY_PEAKS = 12;

interface Peak {
  mz: number;
  intensity: number;
}

export function* inventedRun(options: InventedRunOptions): Generator<string> {
  const course = sprayCourse(options);
  const precursors = course.time_s.map((time_s, i) => precursorAt(course, time_s, i));
  const ms1 = course.time_s.length;
  const ms2 = precursors.filter((ion) => ion !== undefined).length;
  yield head(options.seed, ms1 + ms2);

  const draw = randomStream(options.seed, 'peaks');
  let index = 0;
  for (let i = 0; i < ms1; i++) {
    yield ms1Spectrum(course, i, index++, draw);
    const ion = precursors[i];
    if (ion) yield ms2Spectrum(course, i, index++, ion, draw);
  }
  yield '    </spectrumList>\n  </run>\n</mzML>\n';
}

/** The brightest eluting ion at every MS2_EVERY-th scan, as a data-dependent method would choose. */
function precursorAt(course: SprayCourse, time_s: number, i: number): ElutingIon | undefined {
  if (i % MS2_EVERY !== 0) return undefined;
  let best: ElutingIon | undefined;
  let brightest = 1e6;
  for (const ion of course.ions.eluting) {
    const flux = ionFlux(ion, time_s);
    if (flux > brightest) {
      brightest = flux;
      best = ion;
    }
  }
  return best;
}

function ms1Spectrum(course: SprayCourse, i: number, index: number, draw: RandomStream): string {
  const time_s = course.time_s[i]!;
  const spray = course.spray[i]!;
  const behind = spray * course.composition[i]!;
  const peaks: Peak[] = course.ions.background.map((ion) => ({ mz: ion.mz, intensity: behind * ion.flux }));
  for (const ion of course.ions.eluting) {
    const flux = spray * ionFlux(ion, time_s);
    if (flux < FAINTEST_SHARE * course.level[i]!) continue;
    for (const isotope of isotopes(ion)) peaks.push({ mz: isotope.mz, intensity: flux * isotope.share });
  }
  for (let k = 0; k < STRAY_PEAKS; k++) {
    peaks.push({ mz: draw.between(WINDOW.low, WINDOW.high), intensity: darkFlux / STRAY_PEAKS });
  }
  const list = finished(peaks, draw);
  return spectrum({
    index,
    level: 1,
    time_s,
    injection_ms: course.injection_ms[i]!,
    window: WINDOW,
    tic: course.level[i]!,
    peaks: list,
  });
}

function ms2Spectrum(
  course: SprayCourse,
  i: number,
  index: number,
  ion: ElutingIon,
  draw: RandomStream,
): string {
  const time_s = course.time_s[i]! + MS2_DELAY_S;
  const flux = course.spray[i]! * ionFlux(ion, time_s) * 0.4;
  const peaks: Peak[] = [];
  for (let k = 0; k < MS2_PEAKS; k++) {
    peaks.push({ mz: draw.between(150, Math.min(1500, ion.mz * ion.charge)), intensity: draw.factor(1) });
  }
  const sum = peaks.reduce((total, peak) => total + peak.intensity, 0);
  for (const peak of peaks) peak.intensity *= flux / sum;
  const tic = peaks.reduce((total, peak) => total + peak.intensity, 0);
  const injection_ms = Math.min(100, 1e8 / Math.max(flux, 1));
  const list = finished(peaks, draw);
  return spectrum({ index, level: 2, time_s, injection_ms, window: MS2_WINDOW, tic, peaks: list, ion });
}

/** Ascending, with a mass error of 2 ppm. */
function finished(peaks: Peak[], draw: RandomStream): Peak[] {
  return peaks
    .map((peak) => ({ mz: peak.mz * (1 + 2e-6 * draw.normal()), intensity: peak.intensity }))
    .sort((a, b) => a.mz - b.mz);
}

interface SpectrumParts {
  index: number;
  level: 1 | 2;
  time_s: number;
  injection_ms: number;
  window: { low: number; high: number };
  tic: number;
  peaks: Peak[];
  ion?: ElutingIon;
}

function spectrum(parts: SpectrumParts): string {
  const { peaks } = parts;
  let base = peaks[0]!;
  for (const peak of peaks) if (peak.intensity > base.intensity) base = peak;
  const mz = base64(float64Bytes(peaks.map((peak) => peak.mz)));
  const intensity = base64(float32Bytes(peaks.map((peak) => peak.intensity)));
  const kind = parts.level === 1 ? term('MS:1000579', 'MS1 spectrum') : term('MS:1000580', 'MSn spectrum');
  return `      <spectrum index="${parts.index}" id="scan=${parts.index + 1}" defaultArrayLength="${peaks.length}">
${lines(8, [
  term('MS:1000511', 'ms level', `${parts.level}`),
  kind,
  term('MS:1000130', 'positive scan'),
  term('MS:1000127', 'centroid spectrum'),
  term('MS:1000504', 'base peak m/z', base.mz.toFixed(5), MZ_UNIT),
  term('MS:1000505', 'base peak intensity', number(base.intensity), COUNTS_UNIT),
  term('MS:1000285', 'total ion current', number(parts.tic)),
])}
        <scanList count="1">
          ${term('MS:1000795', 'no combination')}
          <scan>
${lines(12, [
  term('MS:1000016', 'scan start time', (parts.time_s / 60).toFixed(7), ['UO', 'UO:0000031', 'minute']),
  term('MS:1000927', 'ion injection time', parts.injection_ms.toFixed(4), [
    'UO',
    'UO:0000028',
    'millisecond',
  ]),
])}
            <scanWindowList count="1">
              <scanWindow>
                ${term('MS:1000501', 'scan window lower limit', `${parts.window.low}`, MZ_UNIT)}
                ${term('MS:1000500', 'scan window upper limit', `${parts.window.high}`, MZ_UNIT)}
              </scanWindow>
            </scanWindowList>
          </scan>
        </scanList>
${parts.ion ? precursorList(parts.ion) : ''}        <binaryDataArrayList count="2">
${binaryArray(mz, term('MS:1000523', '64-bit float'), term('MS:1000514', 'm/z array', '', MZ_UNIT))}
${binaryArray(intensity, term('MS:1000521', '32-bit float'), term('MS:1000515', 'intensity array', '', COUNTS_UNIT))}
        </binaryDataArrayList>
      </spectrum>
`;
}

function precursorList(ion: ElutingIon): string {
  return `        <precursorList count="1">
          <precursor>
            <isolationWindow>
${lines(14, [
  term('MS:1000827', 'isolation window target m/z', ion.mz.toFixed(4), MZ_UNIT),
  term('MS:1000828', 'isolation window lower offset', '0.8', MZ_UNIT),
  term('MS:1000829', 'isolation window upper offset', '0.8', MZ_UNIT),
])}
            </isolationWindow>
            <selectedIonList count="1">
              <selectedIon>
                ${term('MS:1000744', 'selected ion m/z', ion.mz.toFixed(4), MZ_UNIT)}
                ${term('MS:1000041', 'charge state', `${ion.charge}`)}
              </selectedIon>
            </selectedIonList>
            <activation>
              ${term('MS:1000133', 'collision-induced dissociation')}
            </activation>
          </precursor>
        </precursorList>
`;
}

function binaryArray(encoded: string, type: string, kind: string): string {
  return `          <binaryDataArray encodedLength="${encoded.length}">
            ${type}
            ${term('MS:1000576', 'no compression')}
            ${kind}
            <binary>${encoded}</binary>
          </binaryDataArray>`;
}

function head(seed: number, spectra: number): string {
  const mark = `<userParam name="${INVENTED_MARK}" value="made by steadycone rehearsal, seed ${seed}; not a measurement" type="xsd:string"/>`;
  return `<?xml version="1.0" encoding="utf-8"?>
<mzML xmlns="http://psi.hupo.org/ms/mzml" id="invented_run_${seed}" version="1.1.0">
  <cvList count="2">
    <cv id="MS" fullName="Proteomics Standards Initiative Mass Spectrometry Ontology" URI="http://purl.obolibrary.org/obo/ms/psi-ms.obo"/>
    <cv id="UO" fullName="Unit Ontology" URI="http://purl.obolibrary.org/obo/uo.obo"/>
  </cvList>
  <fileDescription>
    <fileContent>
      ${term('MS:1000579', 'MS1 spectrum')}
      ${term('MS:1000580', 'MSn spectrum')}
      ${mark}
    </fileContent>
  </fileDescription>
  <softwareList count="1">
    <software id="rehearsal" version="1">
      ${term('MS:1000799', 'custom unreleased software tool', 'steadycone rehearsal')}
    </software>
  </softwareList>
  <instrumentConfigurationList count="1">
    <instrumentConfiguration id="invented">
      <userParam name="instrument" value="none: invented"/>
      <componentList count="3">
        <source order="1">
          ${term('MS:1000398', 'nanoelectrospray')}
        </source>
        <analyzer order="2">
          ${term('MS:1000264', 'ion trap')}
        </analyzer>
        <detector order="3">
          ${term('MS:1000624', 'inductive detector')}
        </detector>
      </componentList>
    </instrumentConfiguration>
  </instrumentConfigurationList>
  <dataProcessingList count="1">
    <dataProcessing id="invention">
      <processingMethod order="1" softwareRef="rehearsal">
        ${term('MS:1000544', 'Conversion to mzML')}
      </processingMethod>
    </dataProcessing>
  </dataProcessingList>
  <run id="invented_run" defaultInstrumentConfigurationRef="invented">
    ${mark}
    <spectrumList count="${spectra}" defaultDataProcessingRef="invention">
`;
}

type Unit = readonly [cv: string, accession: string, name: string];
const MZ_UNIT: Unit = ['MS', 'MS:1000040', 'm/z'];
const COUNTS_UNIT: Unit = ['MS', 'MS:1000131', 'number of detector counts'];

function term(accession: string, name: string, value = '', unit?: Unit): string {
  const units = unit ? ` unitCvRef="${unit[0]}" unitAccession="${unit[1]}" unitName="${unit[2]}"` : '';
  return `<cvParam cvRef="MS" accession="${accession}" name="${name}" value="${value}"${units}/>`;
}

function lines(indent: number, parts: string[]): string {
  return parts.map((part) => ' '.repeat(indent) + part).join('\n');
}

function number(value: number): string {
  return value.toPrecision(9);
}
