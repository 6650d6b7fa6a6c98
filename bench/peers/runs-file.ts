/**
 * Large invented mzML files for timing readers, by seed: one MS1 and two MS2 a cycle, 510 and 88 points, m/z in 64 and
 * intensity in 32 bits, an index and its checksum, laid out and worded as converters do. About half of the bytes are
 * arrays, as in real files. Ions live for some tens of scans, so that whoever follows peaks has real work.
 */
import { createHash } from 'node:crypto';
import {
  closeSync,
  createReadStream,
  existsSync,
  openSync,
  readFileSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { randomStream } from '../../src/core/random.ts';

/** Changes with the content, so that no older file is taken for this one. */
const EDITION = 1;
const SEED = 2026;
const MS1_IONS = 510;
const LASTING_IONS = 60;
const MS2_PEAKS = 88;
const MS2_A_CYCLE = 2;
const CYCLE_S = 1.65;
const LEAST_SCANS = 15;
const MOST_SCANS = 60;
const SCATTER = 0.08;
const MASS_SCATTER = 2e-6;
const WRITE_BYTES = 1 << 20;

export interface MadeFile {
  path: string;
  bytes: number;
  sha256: string;
  /** False when an earlier file with the right size and hash was there. */
  made: boolean;
}

export async function madeRunFile(bytes: number, zlib: boolean): Promise<MadeFile> {
  const name = `steadycone-run-${EDITION}-${SEED}-${Math.round(bytes / 1e6)}-${zlib ? 'zlib' : 'none'}.mzML`;
  const path = join(tmpdir(), name);
  const note = `${path}.sha256`;
  if (existsSync(path) && existsSync(note)) {
    const [sha256, size] = readFileSync(note, 'utf8').trim().split(' ');
    if (sha256 !== undefined && statSync(path).size === Number(size) && (await hashOf(path)) === sha256)
      return { path, bytes: Number(size), sha256, made: false };
  }
  const made = write(path, bytes, zlib);
  writeFileSync(note, `${made.sha256} ${made.bytes}\n`);
  return { path, ...made, made: true };
}

async function hashOf(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of createReadStream(path, { highWaterMark: WRITE_BYTES }))
    hash.update(piece as Buffer);
  return hash.digest('hex');
}

function write(path: string, wanted: number, zlib: boolean): { bytes: number; sha256: string } {
  const file = openSync(path, 'w');
  const sha256 = createHash('sha256');
  const sha1 = createHash('sha1');
  let bytes = 0;
  let waiting: string[] = [];
  let waitingBytes = 0;
  const flush = () => {
    const piece = Buffer.from(waiting.join(''), 'latin1');
    waiting = [];
    waitingBytes = 0;
    sha256.update(piece);
    sha1.update(piece);
    writeSync(file, piece);
  };
  const put = (text: string) => {
    waiting.push(text);
    waitingBytes += text.length;
    bytes += text.length;
    if (waitingBytes >= WRITE_BYTES) flush();
  };
  try {
    const offsets: string[] = [];
    put(HEAD);
    const scans = new Scans();
    for (let index = 0; bytes < wanted; ) {
      for (let k = 0; k <= MS2_A_CYCLE; k += 1, index += 1) {
        offsets.push(`    <offset idRef="${idOf(index)}">${bytes + INDENT}</offset>\n`);
        put(k === 0 ? scans.ms1(index, zlib) : scans.ms2(index, k, zlib));
      }
    }
    put('    </spectrumList>\n  </run>\n</mzML>\n');
    const at = bytes + 2;
    put('  <indexList count="1">\n  <index name="spectrum">\n');
    for (const offset of offsets) put(offset);
    put(`  </index>\n  </indexList>\n  <indexListOffset>${at}</indexListOffset>\n  <fileChecksum>`);
    flush();
    put(`${sha1.copy().digest('hex')}</fileChecksum>\n</indexedmzML>\n`);
    flush();
  } finally {
    closeSync(file);
  }
  return { bytes, sha256: sha256.digest('hex') };
}

/** Spaces before a <spectrum>, to which the index must not point. */
const INDENT = 6;

interface Ion {
  mz: number;
  height: number;
  born: number;
  scans: number;
}

class Scans {
  readonly #draw = randomStream(SEED, 'run file');
  readonly #ions: Ion[] = [];
  #cycle = -1;

  constructor() {
    for (let i = 0; i < MS1_IONS; i += 1) this.#ions.push(this.#ion(i < LASTING_IONS ? 1e9 : 0));
    this.#sort();
  }

  ms1(index: number, zlib: boolean): string {
    this.#cycle += 1;
    const cycle = this.#cycle;
    let renewed = false;
    for (let i = 0; i < this.#ions.length; i += 1) {
      const ion = this.#ions[i]!;
      if (cycle < ion.born + ion.scans) continue;
      this.#ions[i] = this.#ion(0);
      renewed = true;
    }
    if (renewed) this.#sort();
    const gain = this.#draw.factor(SCATTER);
    const mz = new Float64Array(MS1_IONS);
    const intensity = new Float32Array(MS1_IONS);
    this.#ions.forEach((ion, i) => {
      const life = ion.scans > MOST_SCANS ? 1 : Math.sin((Math.PI * (cycle - ion.born + 0.5)) / ion.scans);
      mz[i] = ion.mz * (1 + MASS_SCATTER * this.#draw.normal());
      intensity[i] = ion.height * gain * (0.02 + life) * this.#draw.factor(SCATTER);
    });
    mz.sort();
    return spectrum(index, 1, cycle * CYCLE_S, mz, intensity, '', zlib, this.#draw.between(2, 50));
  }

  ms2(index: number, k: number, zlib: boolean): string {
    const chosen = this.#ions[this.#draw.index(MS1_IONS)]!;
    const mz = Float64Array.from({ length: MS2_PEAKS }, () => this.#draw.between(120, 1600)).sort();
    const intensity = Float32Array.from({ length: MS2_PEAKS }, () => 1e4 * this.#draw.factor(1));
    const time_s = this.#cycle * CYCLE_S + 0.5 * k;
    return spectrum(index, 2, time_s, mz, intensity, precursor(index - k, chosen), zlib, 60);
  }

  #ion(scans: number): Ion {
    const lives = scans > 0 ? scans : LEAST_SCANS + this.#draw.index(MOST_SCANS - LEAST_SCANS);
    const born = this.#cycle < 0 ? -this.#draw.index(lives) : this.#cycle;
    return { mz: this.#draw.between(350, 1600), height: 1e6 * this.#draw.factor(1.2), born, scans: lives };
  }

  #sort(): void {
    this.#ions.sort((a, b) => a.mz - b.mz);
  }
}

function idOf(index: number): string {
  return `controllerType=0 controllerNumber=1 scan=${index + 1}`;
}

function cv(indent: number, accession: string, name: string, value = '', unit = ''): string {
  return `${' '.repeat(indent)}<cvParam cvRef="MS" accession="MS:${accession}" name="${name}" value="${value}"${unit}/>\n`;
}

const COUNTS = ' unitCvRef="MS" unitAccession="MS:1000131" unitName="number of detector counts"';
const MZ = ' unitCvRef="MS" unitAccession="MS:1000040" unitName="m/z"';
const MINUTE = ' unitCvRef="UO" unitAccession="UO:0000031" unitName="minute"';
const MILLISECOND = ' unitCvRef="UO" unitAccession="UO:0000028" unitName="millisecond"';
const ELECTRONVOLT = ' unitCvRef="UO" unitAccession="UO:0000266" unitName="electronvolt"';

function spectrum(
  index: number,
  level: number,
  time_s: number,
  mz: Float64Array,
  intensity: Float32Array,
  precursors: string,
  zlib: boolean,
  injection_ms: number,
): string {
  let total = 0;
  let base = 0;
  for (let i = 1; i < intensity.length; i += 1) if (intensity[i]! > intensity[base]!) base = i;
  for (const value of intensity) total += value;
  return `      <spectrum index="${index}" id="${idOf(index)}" defaultArrayLength="${mz.length}">
${cv(8, '1000511', 'ms level', String(level))}${cv(8, level === 1 ? '1000579' : '1000580', level === 1 ? 'MS1 spectrum' : 'MSn spectrum')}${cv(8, '1000130', 'positive scan')}${cv(8, '1000127', 'centroid spectrum')}${cv(8, '1000504', 'base peak m/z', mz[base]!.toFixed(6), MZ)}${cv(8, '1000505', 'base peak intensity', intensity[base]!.toExponential(6), COUNTS)}${cv(8, '1000285', 'total ion current', total.toExponential(9))}${cv(8, '1000528', 'lowest observed m/z', mz[0]!.toFixed(6), MZ)}${cv(8, '1000527', 'highest observed m/z', mz.at(-1)!.toFixed(6), MZ)}        <scanList count="1">
${cv(10, '1000795', 'no combination')}          <scan instrumentConfigurationRef="IC1">
${cv(12, '1000016', 'scan start time', (time_s / 60).toFixed(8), MINUTE)}${cv(12, '1000927', 'ion injection time', injection_ms.toFixed(6), MILLISECOND)}            <scanWindowList count="1">
              <scanWindow>
${cv(16, '1000501', 'scan window lower limit', level === 1 ? '350.0' : '110.0', MZ)}${cv(16, '1000500', 'scan window upper limit', '1600.0', MZ)}              </scanWindow>
            </scanWindowList>
          </scan>
        </scanList>
${precursors}        <binaryDataArrayList count="2">
${array(mz, '1000523', '64-bit float', cv(12, '1000514', 'm/z array', '', MZ), zlib)}${array(intensity, '1000521', '32-bit float', cv(12, '1000515', 'intensity array', '', COUNTS), zlib)}        </binaryDataArrayList>
      </spectrum>
`;
}

function precursor(survey: number, ion: Ion): string {
  return `        <precursorList count="1">
          <precursor spectrumRef="${idOf(survey)}">
            <isolationWindow>
${cv(14, '1000827', 'isolation window target m/z', ion.mz.toFixed(4), MZ)}${cv(14, '1000828', 'isolation window lower offset', '0.8', MZ)}${cv(14, '1000829', 'isolation window upper offset', '0.8', MZ)}            </isolationWindow>
            <selectedIonList count="1">
              <selectedIon>
${cv(16, '1000744', 'selected ion m/z', ion.mz.toFixed(6), MZ)}${ion.height > 1e6 ? cv(16, '1000041', 'charge state', '2') : ''}${cv(16, '1000042', 'peak intensity', ion.height.toExponential(6), COUNTS)}              </selectedIon>
            </selectedIonList>
            <activation>
${cv(14, '1000422', 'beam-type collision-induced dissociation')}${cv(14, '1000045', 'collision energy', '28.0', ELECTRONVOLT)}            </activation>
          </precursor>
        </precursorList>
`;
}

function array(
  values: Float64Array | Float32Array,
  type: string,
  typeName: string,
  kind: string,
  zlib: boolean,
): string {
  const raw = new Uint8Array(values.buffer, values.byteOffset, values.byteLength);
  const text = Buffer.from(zlib ? deflateSync(raw) : raw).toString('base64');
  return `          <binaryDataArray encodedLength="${text.length}">
${cv(12, type, typeName)}${zlib ? cv(12, '1000574', 'zlib compression') : cv(12, '1000576', 'no compression')}${kind}            <binary>${text}</binary>
          </binaryDataArray>
`;
}

const HEAD = `<?xml version="1.0" encoding="utf-8"?>
<indexedmzML xmlns="http://psi.hupo.org/ms/mzml">
<mzML xmlns="http://psi.hupo.org/ms/mzml" id="invented" version="1.1.0">
  <cvList count="2">
    <cv id="MS" fullName="Proteomics Standards Initiative Mass Spectrometry Ontology" version="4.1.257" URI="psi-ms.obo"/>
    <cv id="UO" fullName="Unit Ontology" version="09:04:2014" URI="unit.obo"/>
  </cvList>
  <fileDescription>
    <fileContent>
      <cvParam cvRef="MS" accession="MS:1000579" name="MS1 spectrum" value=""/>
      <cvParam cvRef="MS" accession="MS:1000580" name="MSn spectrum" value=""/>
      <userParam name="invented data"/>
    </fileContent>
  </fileDescription>
  <softwareList count="1">
    <software id="made" version="${EDITION}">
      <cvParam cvRef="MS" accession="MS:1000799" name="custom unreleased software tool" value=""/>
    </software>
  </softwareList>
  <instrumentConfigurationList count="1">
    <instrumentConfiguration id="IC1">
      <componentList count="3">
        <source order="1">
          <cvParam cvRef="MS" accession="MS:1000398" name="nanoelectrospray" value=""/>
        </source>
        <analyzer order="2">
          <cvParam cvRef="MS" accession="MS:1000443" name="mass analyzer type" value=""/>
        </analyzer>
        <detector order="3">
          <cvParam cvRef="MS" accession="MS:1000026" name="detector type" value=""/>
        </detector>
      </componentList>
    </instrumentConfiguration>
  </instrumentConfigurationList>
  <dataProcessingList count="1">
    <dataProcessing id="DP">
      <processingMethod order="0" softwareRef="made">
        <cvParam cvRef="MS" accession="MS:1000544" name="Conversion to mzML" value=""/>
      </processingMethod>
    </dataProcessing>
  </dataProcessingList>
  <run id="invented" defaultInstrumentConfigurationRef="IC1">
    <spectrumList count="1" defaultDataProcessingRef="DP">
`;
