import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { cv, mzml, mzmlSpectrum, SECOND } from '../../test/data/made-runs.ts';
import { runReader } from './run-reader.ts';
import type { RunRecord } from './run-record.ts';
import { INCOMPLETE, NOT_PLAIN, SpectrumLexer } from './spectrum-lexer.ts';
import type { Attributes, XmlSink } from './xml-sink.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Writes down what it is told. */
class Listener implements XmlSink {
  readonly told: string[] = [];
  open(name: string, attributes: Attributes): void {
    const given = Object.entries(attributes).filter(([, value]) => value !== undefined);
    this.told.push([name, ...given.map(([key, value]) => `${key}=${value}`).sort()].join(' '));
  }
  close(name: string): void {
    this.told.push(`/${name}`);
  }
  wantsArray(): boolean {
    return true;
  }
  arrayText(piece: Uint8Array): void {
    this.told.push(new TextDecoder().decode(piece));
  }
  heeds(): boolean {
    return true;
  }
  skipsRest(): boolean {
    return false;
  }
}

function spectrum(value: string, more = ''): string {
  return `<spectrum index="${value}" defaultArrayLength="3">
  <cvParam accession="MS:1" value="${value}" />${more}
  <a><binary>AAAA</binary></a>
</spectrum>`;
}

describe('the lexer of plain spectra', () => {
  const expected = (value: string) => [
    'spectrum defaultArrayLength=3',
    `cvParam accession=MS:1 value=${value}`,
    '/cvParam',
    'a',
    'binary',
    'AAAA',
    '/binary',
    '/a',
    '/spectrum',
  ];

  it('tells the same of a tag met for the first time, with another value, and again', () => {
    const lexer = new SpectrumLexer();
    for (const value of ['1', '1', '22', '', '333 333 333', '1', "it's > 1"]) {
      const listener = new Listener();
      const bytes = bytesOf(`${spectrum(value)}  `);
      expect(lexer.read(bytes, 0, listener)).toBe(bytes.length - 2);
      expect(listener.told).toEqual(expected(value));
    }
  });

  it('reads on where a tag comes in between that it did not expect', () => {
    const lexer = new SpectrumLexer();
    for (const more of ['', '<x/>', '', '<y ref="a"/>', '<y ref="b"/>', '<x/>']) {
      const listener = new Listener();
      lexer.read(bytesOf(spectrum('1', more)), 0, listener);
      const extra = more === '' ? [] : [more.slice(1, -2).replaceAll('"', ''), `/${more[1]}`];
      expect(listener.told).toEqual([...expected('1').slice(0, 3), ...extra, ...expected('1').slice(3)]);
    }
  });

  it('tells nothing of a spectrum that is not whole, wherever it ends, known or not', () => {
    const whole = bytesOf(spectrum('12'));
    for (const learnt of [false, true]) {
      const lexer = new SpectrumLexer();
      if (learnt) lexer.read(bytesOf(spectrum('7')), 0, new Listener());
      for (let cut = 1; cut < whole.length; cut += 1) {
        const listener = new Listener();
        expect(lexer.read(whole.subarray(0, cut), 0, listener)).toBe(INCOMPLETE);
        expect(listener.told).toEqual([]);
      }
    }
  });

  it.each([
    ['a comment', spectrum('1', '<!-- x -->')],
    ['an entity', spectrum('a&amp;b')],
    ['a foreign character', spectrum('\u00e9')],
    ['a tab in a value', spectrum('a\tb')],
    ['text', spectrum('1', 'text')],
    ['CDATA in an array', spectrum('1').replace('AAAA', '<![CDATA[AAAA]]>')],
    ['a doubled attribute', spectrum('1', '<x y="1" y="2"/>')],
    ['attributes without a blank', spectrum('1', '<x y="1"z="2"/>')],
    ['a value without quotes', spectrum('1', '<x y=1/>')],
    ['a wrong end tag', spectrum('1').replace('</a>', '</b>')],
    ['a prefix', spectrum('1', '<m:x/>')],
    ['a spectrum inside', spectrum('1', spectrum('2'))],
    ['a group inside', spectrum('1', '<referenceableParamGroup id="a"></referenceableParamGroup>')],
  ])('leaves it to the strict parser: %s', (_name, text) => {
    for (const learnt of [false, true]) {
      const lexer = new SpectrumLexer();
      if (learnt) lexer.read(bytesOf(spectrum('1')), 0, new Listener());
      const listener = new Listener();
      expect(lexer.read(bytesOf(text), 0, listener)).toBe(NOT_PLAIN);
      expect(listener.told).toEqual([]);
    }
  });

  it('reads tags without end of new kinds', () => {
    const lexer = new SpectrumLexer();
    let read = 0;
    for (let i = 0; i < 3000; i += 1) {
      const listener = new Listener();
      lexer.read(bytesOf(spectrum('1', `<t${i} name="n${i}" value="${i}"/>`)), 0, listener);
      if (listener.told.includes(`t${i} name=n${i} value=${i}`)) read += 1;
    }
    expect(read).toBe(3000);
  });
});

describe('inside a file', () => {
  const time = (n: number) => cv('MS:1000016', String(n), SECOND);
  function both(file: string, pieceBytes: number): RunRecord[] {
    return [false, true].map((strict) => {
      const bytes = bytesOf(file);
      const inflate = (packed: Uint8Array, most: number) => inflateSync(packed, { maxOutputLength: most });
      const reader = runReader({ inflate, strict });
      for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes));
      return reader.end();
    });
  }

  it.each([
    ['a spectrum', mzmlSpectrum({ time: time(5) })],
    ['a chromatogram', `<chromatogram id="c" defaultArrayLength="1">${cv('MS:1003019')}</chromatogram>`],
    [
      'a parameter group',
      '<referenceableParamGroup id="g"><userParam name="invented data"/></referenceableParamGroup>',
    ],
  ])('gives the same as the strict parser where an MS2 holds %s', (_name, inside) => {
    const odd = mzmlSpectrum({ level: cv('MS:1000511', '2'), scanParams: inside });
    const [fast, strict] = both(
      mzml([mzmlSpectrum({ time: time(1) }), odd, mzmlSpectrum({ time: time(9) })]),
      1e6,
    );
    expect(fast).toEqual(strict);
    expect(fast!.ms1_count).toBeGreaterThanOrEqual(2);
  });

  it('waits for spectra larger than many pieces, and for one larger than it waits for', () => {
    const large = Array.from({ length: 200_000 }, (_, i) => i);
    const huge = `<userParam name="${'x'.repeat(3e6)}"/>`.repeat(6);
    const file = mzml([
      mzmlSpectrum({ intensities: large, time: time(1) }),
      mzmlSpectrum({ time: time(2), params: huge }),
      mzmlSpectrum({ time: time(3) }),
    ]);
    const [fast, strict] = both(file, 1 << 16);
    expect(fast).toEqual(strict);
    expect([...fast!.time_s]).toEqual([1, 2, 3]);
    expect(fast!.broken).toBeUndefined();
  });
});
