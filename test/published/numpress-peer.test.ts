/**
 * MS-Numpress as an independent C++ library writes and reads it (Debian package libpwiz-dev, the authors' own code), against our
 * decoder: the same values, to the last bits. Compiled here in a second where compiler and library stand; else skipped by name.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { randomStream } from '../../src/core/random.ts';
import { type NumpressKind, numpressValues } from '../../src/formats/numpress.ts';

/** The library writes through pointers: its own form for vectors leaves slof arrays full of zeros in this version. */
const PROGRAM = `#include <cstdio>
#include <iostream>
#include <string>
#include <vector>
#include <pwiz/data/msdata/MSNumpress.hpp>
using namespace pwiz::msdata::MSNumpress;
int main() {
  std::string kind; double point; size_t n;
  while (std::cin >> kind >> point >> n) {
    std::vector<double> values(n), back;
    for (auto& v : values) std::cin >> v;
    std::vector<unsigned char> out(8 + 5 * n + 16);
    size_t bytes = kind == "linear" ? encodeLinear(values.data(), n, out.data(), point)
                 : kind == "pic" ? encodePic(values.data(), n, out.data()) : encodeSlof(values.data(), n, out.data(), point);
    out.resize(bytes);
    if (kind == "linear") decodeLinear(out, back); else if (kind == "pic") decodePic(out, back); else decodeSlof(out, back);
    for (unsigned char b : out) std::printf("%02x", b);
    for (double v : back) std::printf(" %.17g", v);
    std::printf("\\n");
  }
}
`;
const RUNS = 200;
/** Both divide the same whole numbers; exponentials of two libraries differ by a few last bits. */
const RELATIVE = 1e-13;
const MANY = 1e6;

const folder = mkdtempSync(join(tmpdir(), 'steadycone-numpress-'));
const program = join(folder, 'peer');
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function isCompiled(): boolean {
  const source = join(folder, 'peer.cpp');
  writeFileSync(source, PROGRAM);
  const call = ['-O1', '-I/usr/include/proteowizard', source, '-o', program, '-lpwiz'];
  return spawnSync('g++', call, { stdio: 'ignore' }).status === 0;
}

const here = isCompiled();
const absent = here ? '' : ' (SKIPPED: no C++ compiler or no libpwiz-dev on this machine)';

interface Asked {
  kind: NumpressKind;
  point: number;
  values: number[];
}

/** Rising masses, counts with gaps of zero and heights over many decades, lengths from one on. */
function asked(seed: number): Asked {
  const draw = randomStream(seed, 'numpress peer');
  const kind = (['linear', 'pic', 'slof'] as const)[draw.index(3)]!;
  const length = 1 + draw.index(80);
  const counts = Array.from({ length }, () => (draw.unit() < 0.2 ? 0 : Math.floor(2 ** (31 * draw.unit()))));
  if (kind === 'pic') return { kind, point: 1, values: counts };
  if (kind === 'slof') return { kind, point: Math.floor(65_535 / Math.log1p(2 ** 31)), values: counts };
  let mz = 100;
  const values = counts.map(() => (mz += draw.unit() < 0.1 ? 200 * draw.unit() : 0.01 + draw.unit()));
  return { kind, point: [1000, 5000, 100_000][draw.index(3)]!, values };
}

describe.skipIf(!here)(`MS-Numpress of the authors' library${absent}`, () => {
  it('is read as the library itself reads it', () => {
    const runs = Array.from({ length: RUNS }, (_, seed) => asked(seed));
    const input = runs.map(({ kind, point, values }) => [kind, point, values.length, ...values].join(' '));
    const { stdout, stderr } = spawnSync(program, [], { input: input.join('\n'), encoding: 'utf8' });
    const lines = stdout.trimEnd().split('\n');
    expect(lines, stderr).toHaveLength(RUNS);
    const read = { linear: 0, pic: 0, slof: 0 };
    lines.forEach((line, i) => {
      const [hex, ...numbers] = line.split(' ');
      const { kind, values } = runs[i]!;
      const found = numpressValues(kind, Buffer.from(hex!, 'hex'), MANY);
      expect(numbers).toHaveLength(values.length);
      expect(found).toHaveLength(values.length);
      numbers.map(Number).forEach((wanted, k) => {
        expect(Math.abs(found![k]! - wanted)).toBeLessThanOrEqual(RELATIVE * Math.max(1, Math.abs(wanted)));
      });
      read[kind] += 1;
    });
    for (const count of Object.values(read)) expect(count).toBeGreaterThan(RUNS / 6);
  });
});
