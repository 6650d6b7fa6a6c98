import { deflateSync, inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import {
  base64,
  cv,
  MILLISECOND,
  MINUTE,
  mzml,
  mzmlSpectrum,
  packed,
  SECOND,
  type SpectrumParts,
  zlibBomb,
} from '../../test/data/made-runs.ts';
import { numpress } from '../../test/data/numpress.ts';
import { InputError } from '../core/errors.ts';
import { runReader } from './run-reader.ts';
import type { RunRecord } from './run-record.ts';

const inflate = (bytes: Uint8Array, maxBytes: number): Uint8Array =>
  inflateSync(bytes, { maxOutputLength: maxBytes });

function read(file: string | Uint8Array, pieceBytes = 1 << 20): RunRecord {
  const bytes = typeof file === 'string' ? new TextEncoder().encode(file) : file;
  const reader = runReader({ inflate });
  for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes));
  return reader.end();
}

function readSpectra(...spectra: Partial<SpectrumParts>[]): RunRecord {
  return read(mzml(spectra.map(mzmlSpectrum)));
}

/** A fault may show only at the end of its tag; no tag here is longer. */
const TAG_BYTES = 80;

const timeIn_s = (value: string) => cv('MS:1000016', value, SECOND);

describe('a plain mzML file', () => {
  const file = mzml([
    mzmlSpectrum({
      params: cv('MS:1000285', '6.5') + cv('MS:1000505', '3.25') + cv('MS:1000130') + cv('MS:1000128'),
      scanParams: `${cv('MS:1000927', '12.5', MILLISECOND)}${cv('MS:1000512', 'FTMS + p ESI Full ms')}<scanWindowList><scanWindow>${cv('MS:1000501', '400')}${cv('MS:1000500', '1600')}</scanWindow></scanWindowList>`,
    }),
    mzmlSpectrum({ level: cv('MS:1000511', '2'), time: timeIn_s('91') }),
    mzmlSpectrum({ time: timeIn_s('92'), params: cv('MS:1000129') + cv('MS:1000127') }),
  ]);

  it('gives each MS1 spectrum a row with all that it states', () => {
    const run = read(file);
    expect(run.broken).toBeUndefined();
    expect(run.format).toBe('mzML');
    expect(run.ms1_count).toBe(2);
    expect(run.spectra_by_level).toEqual([0, 2, 1]);
    expect([...run.time_s]).toEqual([90, 92]);
    expect(run.tic_stated[0]).toBe(6.5);
    expect([...run.tic_summed]).toEqual([6, 6]);
    expect(run.base_peak[0]).toBe(3.25);
    expect([...run.peak_count]).toEqual([3, 3]);
    expect(run.injection_ms[0]).toBe(12.5);
    expect(run.injection_ms[1]).toBeNaN();
    expect([...run.polarity]).toEqual([1, -1]);
    expect([...run.profile]).toEqual([1, 0]);
    expect([run.window_low[0], run.window_high[0]]).toEqual([400, 1600]);
    expect([...run.analyser].map((i) => run.analysers[i])).toEqual(['FTMS', 'configuration 1']);
    expect(run.warnings).toEqual([
      '1 MS1 spectrum without a stated TIC (spectrum 3).',
      '1 MS1 spectrum without an injection time, though others have one (spectrum 3).',
    ]);
    expect(run.invented).toBe(false);
  });

  it('gives the same record whatever the size of the pieces', () => {
    const whole = read(file);
    for (const pieceBytes of [1, 2, 3, 7, 64, 1000]) expect(read(file, pieceBytes)).toEqual(whole);
  });

  it('grows past its first rows', () => {
    const spectra = Array.from({ length: 2500 }, (_, i) => mzmlSpectrum({ time: timeIn_s(String(i)) }));
    const run = read(mzml(spectra));
    expect(run.ms1_count).toBe(2500);
    expect(run.time_s[2499]).toBe(2499);
    expect(run.tic_summed.every((sum) => sum === 6)).toBe(true);
  });
});

describe('arrays', () => {
  it.each(['float64', 'float32', 'int32', 'int64'] as const)('sums %s, plain and zlib-packed', (type) => {
    const run = readSpectra({ type, intensities: [4, 5, 7] }, { type, intensities: [4, 5, 7], zlib: true });
    expect([...run.tic_summed]).toEqual([16, 16]);
  });

  it('takes an empty spectrum as zero, not as unreadable', () => {
    const run = readSpectra({ intensities: [] });
    expect(run.tic_summed[0]).toBe(0);
    expect(run.peak_count[0]).toBe(0);
  });

  it('reads base64 broken into lines, and through comments and CDATA', () => {
    const text = base64(packed([1, 2, 3], 'float32'));
    for (const odd of [
      `\n  ${text.slice(0, 5)}\r\n\t${text.slice(5)}\n`,
      `${text.slice(0, 5)}<!-- a > <binary> -->${text.slice(5)}`,
      `<![CDATA[${text}]]>`,
    ]) {
      expect(readSpectra({ text: odd }).tic_summed[0]).toBe(6);
    }
  });

  it.each([
    ['foreign characters', { text: '!!!!!!!!' }, 'damaged base64'],
    ['a lone last character', { text: 'AAAAA' }, 'damaged base64'],
    ['unequal length', { declared: 5 }, 'length other than the declared'],
    ['a cut value', { text: 'AAAA' }, 'length other than the declared'],
    ['corrupt zlib', { zlib: true, text: 'AAAAAAAAAAAAAAAA' }, 'zlib data damaged'],
    ['a zlib bomb', { zlib: true, text: zlibBomb() }, 'zlib data damaged or longer than declared'],
    ['far more text than declared', { declared: 1, text: 'AAAA'.repeat(50_000) }, 'length other than'],
    ['a NaN', { intensities: [1, Number.NaN] }, 'not a number'],
    ['no number type', { arrayParams: cv('MS:1000515') }, 'without a known number type'],
    ['zstd', { arrayParams: cv('MS:1000515') + cv('MS:1000521') + cv('MS:1003780') }, 'zstd'],
  ] as const)('leaves the sum empty and says so: %s', (_name, parts, words) => {
    const run = readSpectra({ ...parts, params: cv('MS:1000285', '8') }, { params: cv('MS:1000285', '8') });
    expect([...run.tic_summed]).toEqual([Number.NaN, 6]);
    expect([...run.tic_stated]).toEqual([8, 8]);
    expect(run.broken).toBeUndefined();
    const [warning, ...others] = run.warnings.filter((line) => !line.includes('scan start time'));
    expect(warning).toMatch(/^1 intensity array /);
    expect(warning).toContain(words);
    expect(others).toEqual([]);
  });

  it.each([
    ['MS:1002312', 'linear', false],
    ['MS:1002313', 'pic', false],
    ['MS:1002314', 'slof', false],
    ['MS:1002746', 'linear', true],
    ['MS:1002747', 'pic', true],
    ['MS:1002748', 'slof', true],
  ] as const)(
    'reads MS-Numpress (%s, %s, zlib %s), also when zlib is named beside it',
    (accession, kind, zlib) => {
      const bytes = numpress(kind, [5, 7, 11], kind === 'slof' ? 3000 : 1000);
      const arrayParams = cv('MS:1000515') + cv('MS:1000521') + cv(accession);
      const run = readSpectra(
        { arrayParams, text: base64(zlib ? deflateSync(bytes) : bytes), time: timeIn_s('1') },
        ...(zlib
          ? []
          : [
              {
                arrayParams: arrayParams + cv('MS:1000574'),
                text: base64(deflateSync(bytes)),
                time: timeIn_s('2'),
              },
            ]),
      );
      expect(run.tic_summed).toHaveLength(zlib ? 1 : 2);
      for (const sum of run.tic_summed) expect(Math.abs(sum - 23)).toBeLessThan(0.01);
    },
  );

  it('refuses hostile MS-Numpress with one counted line', () => {
    const arrayParams = cv('MS:1000515') + cv('MS:1000521') + cv('MS:1002312');
    const run = readSpectra({ arrayParams, text: base64(new Uint8Array(16)) });
    expect(run.warnings.join(' ')).toContain('1 intensity array in MS-Numpress that could not be read');
    expect(run.tic_summed[0]).toBeNaN();
  });

  it('hands each MS1 spectrum on with its m/z and intensities, alike on the fast and the strict way', () => {
    const file = mzml([
      mzmlSpectrum({ intensities: [5, 6], params: cv('MS:1000128') }),
      mzmlSpectrum({ level: cv('MS:1000511', '2') }),
      mzmlSpectrum({ intensities: [7], zlib: true, type: 'float64', time: timeIn_s('99') }),
      mzmlSpectrum({ text: '!!' }),
    ]);
    for (const strict of [false, true]) {
      const seen: object[] = [];
      const reader = runReader({
        inflate,
        strict,
        onMs1: ({ row, mz, intensity, profile, time_s }) =>
          seen.push({ row, mz: [...mz], intensity: [...intensity], profile, time_s }),
      });
      reader.push(new TextEncoder().encode(file));
      expect(reader.end().ms1_count).toBe(3);
      expect(seen).toEqual([
        { row: 0, mz: [100, 101], intensity: [5, 6], profile: true, time_s: 90 },
        { row: 1, mz: [100], intensity: [7], profile: false, time_s: 99 },
      ]);
    }
  });

  it('does not warn of arrays of MS2 spectra', () => {
    expect(readSpectra({ level: cv('MS:1000511', '2'), text: '!!' }).warnings).toEqual([]);
  });

  it('warns of negative intensities and sums them as stored', () => {
    const run = readSpectra({ intensities: [5, -1], params: cv('MS:1000285', '8') });
    expect(run.tic_summed[0]).toBe(4);
    expect(run.warnings).toEqual([
      '1 intensity array holding negative intensities, summed as stored (spectrum 1).',
    ]);
  });
});

describe('times', () => {
  const tic = cv('MS:1000285', '8');
  it.each([
    ['no time', [''], [Number.NaN], 'without a scan start time'],
    ['no unit', [cv('MS:1000016', '24.04')], [Number.NaN], 'in no unit'],
    ['a foreign unit', [cv('MS:1000016', '24.04', 'UO:0000169')], [Number.NaN], 'in no unit'],
    ['a decimal comma', [cv('MS:1000016', '24,04', MINUTE)], [Number.NaN], 'not a number'],
    ['NaN', [cv('MS:1000016', 'NaN', MINUTE)], [Number.NaN], 'not a number'],
    ['an empty value', [cv('MS:1000016', '', MINUTE)], [Number.NaN], 'not a number'],
    ['a negative time', [timeIn_s('-3')], [-3], 'negative scan start time'],
    [
      'time running backward',
      [timeIn_s('9'), timeIn_s('8')],
      [9, 8],
      'before that of the MS1 spectrum ahead',
    ],
    ['a repeated time', [timeIn_s('9'), timeIn_s('9')], [9, 9], 'the same scan start time'],
  ])('%s is told with its count', (_name, times, expected, words) => {
    const run = readSpectra(...times.map((time) => ({ time, params: tic })));
    expect([...run.time_s]).toEqual(expected);
    expect(run.warnings).toHaveLength(1);
    expect(run.warnings[0]).toMatch(/^1 MS1 spectrum /);
    expect(run.warnings[0]).toContain(words);
  });
});

describe('parameters in odd places', () => {
  it('takes the injection time and the filter string from userParams', () => {
    const run = readSpectra({
      scanParams:
        '<userParam name="MS:1000927" value="120.5" unitAccession="UO:0000028"/><userParam name="filter string" value="ITMS + c NSI Full ms"/>',
    });
    expect(run.injection_ms[0]).toBe(120.5);
    expect(run.analysers).toEqual(['ITMS']);
  });

  it('expands parameter groups in spectrum, scan and array', () => {
    const groups =
      `<referenceableParamGroup id="a">${cv('MS:1000511', '1')}${cv('MS:1000130')}</referenceableParamGroup>` +
      `<referenceableParamGroup id="b">${cv('MS:1000016', '2', MINUTE)}${cv('MS:1000927', '7', MILLISECOND)}</referenceableParamGroup>` +
      `<referenceableParamGroup id="c">${cv('MS:1000515')}${cv('MS:1000521')}${cv('MS:1000576')}</referenceableParamGroup>`;
    const ref = (id: string) => `<referenceableParamGroupRef ref="${id}"/>`;
    const spectrum = mzmlSpectrum({ level: ref('a'), time: ref('b'), arrayParams: ref('c') });
    const run = read(mzml([spectrum], { groups }));
    expect([run.time_s[0], run.injection_ms[0], run.polarity[0], run.tic_summed[0]]).toEqual([120, 7, 1, 6]);
    const lost = read(mzml([mzmlSpectrum({ params: ref('z') })], { groups }));
    expect(lost.warnings[0]).toBe(
      '1 reference to a parameter group that the file does not hold (spectrum 1).',
    );
  });

  it('takes no parameter of a precursor for one of the spectrum', () => {
    const params = `<precursorList><precursor><isolationWindow>${cv('MS:1000511', '3')}${cv('MS:1000285', '9')}</isolationWindow></precursor></precursorList>`;
    const run = readSpectra({ params });
    expect(run.spectra_by_level).toEqual([0, 1]);
    expect(run.tic_stated[0]).toBeNaN();
  });

  it('tells analysers apart by the configuration where no filter string is given', () => {
    const run = readSpectra(
      {},
      { scanAttributes: 'instrumentConfigurationRef="Big_Trap_9000"' },
      { scanParams: cv('MS:1000512', '+ c NSI Q1MS') },
    );
    expect([...run.analyser].map((i) => run.analysers[i])).toEqual([
      'configuration 1',
      'configuration 2',
      'configuration 1',
    ]);
  });

  it('counts spectra without a level and leaves them out', () => {
    const run = readSpectra({ level: '' }, { level: cv('MS:1000511', '') }, { level: cv('MS:1000579') });
    expect(run.spectra_by_level).toEqual([2, 1]);
    expect(run.warnings[0]).toBe(
      '2 spectra without a readable MS level; left out of the MS1 rows (the first: spectrum 1).',
    );
    expect(run.tic_summed[0]).toBe(6);
  });

  it('keeps a level of a thousand million from filling the memory', () => {
    expect(readSpectra({ level: cv('MS:1000511', '1000000000') }).spectra_by_level).toEqual([1]);
  });

  it('sees the mark of an invented run, plain or in a group', () => {
    const mark = '<userParam name="invented data" value="true"/>';
    expect(read(mzml([mzmlSpectrum()], { content: mark })).invented).toBe(true);
    expect(read(mzml([mzmlSpectrum()], { run: mark })).invented).toBe(true);
    expect(readSpectra({ params: mark }).invented).toBe(false);
  });

  it('reads pressure and flow chromatograms as traces', () => {
    const array = (kind: string, values: number[], unit: string, unitName: string) =>
      `<binaryDataArray encodedLength="0"><cvParam accession="${kind}" name="n" unitAccession="${unit}" unitName="${unitName}"/>${cv('MS:1000523')}${cv('MS:1000576')}<binary>${base64(packed(values, 'float64'))}</binary></binaryDataArray>`;
    const chromatogram = (type: string, kind: string, unitName: string) =>
      `<chromatogram id="Someone's pump" defaultArrayLength="2">${cv(type)}<binaryDataArrayList>${array('MS:1000595', [1, 2], MINUTE, 'minute')}${array(kind, [10, 11], 'x', unitName)}</binaryDataArrayList></chromatogram>`;
    const after = `<chromatogramList>${chromatogram('MS:1003019', 'MS:1000821', 'pascal')}${chromatogram('MS:1003020', 'MS:1000820', 'microliters per minute')}${chromatogram('MS:1000235', 'MS:1000515', 'counts')}${chromatogram('MS:1003019', 'MS:1000514', 'none')}</chromatogramList>`;
    const run = read(mzml([mzmlSpectrum()], { after }));
    expect(run.traces.map(({ name, unit }) => [name, unit])).toEqual([
      ['pressure', 'pascal'],
      ['flow rate', 'microliters per minute'],
    ]);
    expect([...run.traces[0]!.time_s]).toEqual([60, 120]);
    expect([...run.traces[0]!.value]).toEqual([10, 11]);
    expect(run.warnings).toContain(
      '1 pressure or flow trace without readable times in a known unit and values of equal length; left out (chromatogram 4).',
    );
  });
});

describe('odd XML', () => {
  const plain = mzml([mzmlSpectrum()]);
  const row = [90, 6];
  const firstRow = (run: RunRecord) => [run.time_s[0], run.tic_summed[0]];

  it.each([
    ['a byte order mark', `\ufeff${plain}`],
    ['CR LF', plain.replaceAll('\n', '\r\n')],
    ['single quotes', plain.replaceAll('"', "'")],
    ['namespace prefixes', plain.replaceAll(/<(\/?)(?=[a-zA-Z])/g, '<$1ms:').replace('xmlns=', 'xmlns:ms=')],
    ['a spectrum in a comment', plain.replace('<spectrum ', `<!-- ${mzmlSpectrum()} --><spectrum `)],
    ['an array tag in a comment', plain.replace('<spectrum ', '<!-- <binary> --><spectrum ')],
    ['a > in an attribute of the array', plain.replaceAll('<binary>', '<binary note="a>b">')],
    [
      'an index that is nonsense',
      `${plain.replace('<mzML', '<indexedmzML><mzML')}<indexList count="7"/><indexListOffset>-4</indexListOffset><fileChecksum>0</fileChecksum></indexedmzML>`,
    ],
    [
      'attributes in another order',
      plain.replace(/(accession="[^"]*") name="n" (value="[^"]*")/g, '$2 $1 name="n"'),
    ],
  ])('%s changes nothing', (_name, file) => {
    for (const pieceBytes of [5, 1 << 20]) {
      const run = read(file, pieceBytes);
      expect(run.broken).toBeUndefined();
      expect(run.ms1_count).toBe(1);
      expect(firstRow(run)).toEqual(row);
    }
  });

  it.each([
    ['little', true, false],
    ['big', false, false],
    ['little, with a mark', true, true],
    ['big, with a mark', false, true],
  ])('UTF-16 is read: %s', (_name, little, marked) => {
    const text = (marked ? '\ufeff' : '') + plain.replace('utf-8', 'utf-16');
    const view = new DataView(new ArrayBuffer(text.length * 2));
    for (let i = 0; i < text.length; i += 1) view.setUint16(i * 2, text.charCodeAt(i), little);
    const run = read(new Uint8Array(view.buffer), 333);
    expect(run.broken).toBeUndefined();
    expect(firstRow(run)).toEqual(row);
  });

  it('tells of bytes behind the end, whatever the size of the pieces', () => {
    for (const pieceBytes of [3, 1 << 20]) {
      const run = read(`${plain}\n\0\0\0\0`, pieceBytes);
      expect(run.broken).toBeUndefined();
      expect(run.warnings).toContain('4 bytes after the end of the document, not read.');
    }
  });
});

describe('broken files', () => {
  const spectra = [1, 2, 3, 4].map((n) => mzmlSpectrum({ time: timeIn_s(String(n)) }));
  const whole = mzml(spectra);

  it('keeps every row before a cut, wherever it falls', () => {
    const ends = [...whole.matchAll(/<\/spectrum>/g)].map((match) => match.index + '</spectrum>'.length);
    const root = whole.indexOf('<mzML') + '<mzML xmlns="http://psi.hupo.org/ms/mzml" version="1.1.0">'.length;
    for (let cut = root; cut < whole.length; cut += 1) {
      const run = read(whole.slice(0, cut), 500);
      expect(run.ms1_count).toBe(ends.filter((end) => end <= cut).length);
      expect(run.broken?.byte).toBe(cut);
      expect(run.broken?.reason).toMatch(/^the file ends inside <\w+>$/);
    }
  });

  it.each([
    ['a wrong end tag', '</scanList>', '</scanLisd>'],
    ['an undefined entity', 'name="n"', 'name="&boom;"'],
    ['a bare ampersand', 'name="n"', 'name="a & b"'],
    ['a doubled attribute', 'index="0"', 'index="0" index="1"'],
    ['a zero byte in a tag', 'index="0"', 'index="\0"'],
  ])('%s stops reading there', (_name, from, to) => {
    const at = whole.indexOf(from, whole.indexOf('</spectrum>'));
    const run = read(whole.slice(0, at) + to + whole.slice(at + from.length), 4096);
    expect(run.ms1_count).toBe(1);
    expect(run.time_s[0]).toBe(1);
    expect(run.broken!.reason).not.toBe('');
    expect(run.broken!.byte).toBeGreaterThanOrEqual(at);
    // A bare ampersand is noticed only when the name it seems to begin grows too long.
    if (!to.includes('& b')) expect(run.broken!.byte).toBeLessThanOrEqual(at + TAG_BYTES);
  });

  it('does not take the end of a list for the end of the spectrum inside it', () => {
    const at = whole.lastIndexOf('</binaryDataArrayList>');
    for (const wrong of ['</spectrumList>', '</mzML>', '</run>']) {
      const run = read(whole.slice(0, at) + wrong + whole.slice(at));
      expect(run.ms1_count).toBe(3);
      expect(run.broken?.reason).toBe('unexpected close tag');
      const missing = read(
        whole.slice(0, at) + wrong + whole.slice(at + '</binaryDataArrayList></spectrum>'.length),
      );
      expect(missing.ms1_count).toBe(3);
      expect(missing.broken?.reason).toBe('unexpected close tag');
    }
  });

  it('names the place in bytes where characters take several', () => {
    const file = whole.replace('id="r"', 'id="r\u00e9\u00e9"');
    const cut = new TextEncoder().encode(file).subarray(0, 900);
    expect(read(cut).broken?.byte).toBe(900);
  });

  it('stops at elements nested without end and at markup without end', () => {
    expect(read(`${whole.slice(0, 400)}>${'<a>'.repeat(1000)}`).broken).toBeDefined();
    const deep = read(mzml([mzmlSpectrum(), '<a>'.repeat(1000)]));
    expect(deep.broken?.reason).toBe('elements nested deeper than 200');
    expect(deep.ms1_count).toBe(1);
    for (const start of ['<a b="', '<!-- ', 'text ']) {
      const endless = read(mzml([mzmlSpectrum(), start + 'x'.repeat(6 * 2 ** 20)]), 1 << 16);
      expect(endless.broken?.reason).toBe('a stretch of markup longer than 4 MiB');
      expect(endless.ms1_count).toBe(1);
    }
  });
});

describe('what is no run file', () => {
  const entity = '<!DOCTYPE mzML [<!ENTITY a "aaaa"><!ENTITY b SYSTEM "file:///etc/passwd">]>';
  it.each([
    ['an empty file', '', 'an empty file'],
    ['blanks', ' \n ', 'nothing but blanks'],
    ['an HTML page', '<!DOCTYPE html><html><body>Not found</body></html>', 'an HTML page'],
    ['an HTML page behind a comment', '<!-- x --><html></html>', 'an HTML page'],
    ['text', 'time,tic\n1,2\n', 'not an XML document'],
    ['gzip in gzip', '\u001f\u008b\u0008', 'gzip-compressed bytes inside'],
    ['a zip archive', 'PK\u0003\u0004', 'a zip archive'],
    ['another XML', '<?xml version="1.0"?><mzData version="1.05"/>', 'an XML document of <mzData>'],
    ['entities', `<?xml version="1.0"?>${entity}<mzML/>`, 'a document type declaration'],
    ['XML that ends too soon', '<?xml version="1.0"?>', 'the file ends before its first element'],
  ])('%s is refused by one line', (_name, text, found) => {
    const bytes = Uint8Array.from(text, (character) => character.charCodeAt(0));
    const attempt = () => read(bytes, 3);
    expect(attempt).toThrow(InputError);
    expect(attempt).toThrow(`invalid run file: ${found}; expected mzML or mzXML`);
  });
});
