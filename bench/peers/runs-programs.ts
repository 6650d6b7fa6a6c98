/**
 * The same task for each general-purpose reader: every MS1 spectrum, its time [s] and summed intensity, one line each, then
 * a last line with peak memory [KiB] and processor time [s]. The peak is the one of the process's own memory (VmHWM): that of
 * getrusage counts the parent's too. Each is its own process, as a user would run it.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { present } from './install.ts';

export interface Reader {
  name: string;
  command: string[];
}

export const PACKAGES = [
  'g++',
  'libpwiz-dev',
  'libboost-dev',
  'libopenms-dev',
  'qtbase5-dev',
  'libxerces-c-dev',
  'libeigen3-dev',
  'python3-pymzml',
] as const;

const PWIZ_HEADERS = '/usr/include/proteowizard';
const OPENMS_HEADERS = '/usr/include/OpenMS';
const QT_HEADERS = '/usr/include/x86_64-linux-gnu/qt5';
/** Debian's own, for which its packages are made. */
const PYTHON = '/usr/bin/python3';

const LAST_LINE = `
  long peak = 0;
  char line[256];
  FILE* status = fopen("/proc/self/status", "r");
  while (status && fgets(line, sizeof line, status)) sscanf(line, "VmHWM: %ld", &peak);
  struct rusage used;
  getrusage(RUSAGE_SELF, &used);
  double cpu = used.ru_utime.tv_sec + used.ru_stime.tv_sec + 1e-6 * (used.ru_utime.tv_usec + used.ru_stime.tv_usec);
  printf("used %ld %.3f\\n", peak, cpu);`;

const PWIZ = `#include <cstdio>
#include <sys/resource.h>
#include <pwiz/data/msdata/MSDataFile.hpp>
using namespace pwiz::cv;
using namespace pwiz::msdata;
int main(int, char** argv) {
  MSDataFile file(argv[1]);
  const SpectrumList& list = *file.run.spectrumListPtr;
  for (size_t i = 0; i < list.size(); i++) {
    SpectrumPtr s = list.spectrum(i, false);
    if (s->cvParam(MS_ms_level).value != "1") continue;
    s = list.spectrum(i, true);
    double sum = 0;
    for (double value : s->getIntensityArray()->data) sum += value;
    printf("%.9g %.15g\\n", s->scanList.scans[0].cvParam(MS_scan_start_time).timeInSeconds(), sum);
  }${LAST_LINE}
}
`;

const OPENMS = `#include <cstdio>
#include <sys/resource.h>
#include <OpenMS/FORMAT/MzMLFile.h>
#include <OpenMS/KERNEL/MSExperiment.h>
using namespace OpenMS;
int main(int, char** argv) {
  MzMLFile file;
  file.getOptions().setMSLevels({1});
  PeakMap run;
  file.load(argv[1], run);
  for (const MSSpectrum& s : run) {
    double sum = 0;
    for (const Peak1D& peak : s) sum += peak.getIntensity();
    printf("%.9g %.15g\\n", s.getRT(), sum);
  }${LAST_LINE}
}
`;

const PYMZML = `import resource, sys
import pymzml.run
for s in pymzml.run.Reader(sys.argv[1]):
    if s.ms_level == 1:
        print('%.9g %.15g' % (60 * s.scan_time_in_minutes(), s.i.sum(dtype='float64')))
used = resource.getrusage(resource.RUSAGE_SELF)
peak = next(line.split()[1] for line in open('/proc/self/status') if line.startswith('VmHWM'))
print('used', peak, used.ru_utime + used.ru_stime)
`;

/** The readers that this machine has, and for the others why not. */
export function peerReaders(folder: string): { readers: Reader[]; skipped: string[] } {
  const readers: Reader[] = [];
  const skipped: string[] = [];
  const add = (name: string, command: string[] | string): void => {
    if (typeof command === 'string') skipped.push(`${name}: ${command}`);
    else readers.push({ name, command });
  };
  add('ProteoWizard', pwiz(folder));
  add('OpenMS', openms(folder));
  add('pymzML', pymzml(folder));
  return { readers, skipped };
}

function pwiz(folder: string): string[] | string {
  if (!existsSync(PWIZ_HEADERS)) return 'its development files are absent';
  return compiled(folder, 'pwiz', PWIZ, [`-I${PWIZ_HEADERS}`, '-lpwiz']);
}

function openms(folder: string): string[] | string {
  if (!existsSync(OPENMS_HEADERS)) return 'its development files are absent';
  // Debian leaves the generated headers in a folder of the build, where nothing finds them.
  const generated = readdirSync(OPENMS_HEADERS, { recursive: true, encoding: 'utf8' }).find((path) =>
    path.endsWith('src/openms'),
  );
  const include = join(folder, 'include');
  mkdirSync(include, { recursive: true });
  if (generated !== undefined && !existsSync(join(include, 'OpenMS')))
    symlinkSync(join(OPENMS_HEADERS, generated), join(include, 'OpenMS'));
  const flags = ['-fopenmp', '-fPIC', `-I${include}`, `-I${QT_HEADERS}`, `-I${join(QT_HEADERS, 'QtCore')}`];
  return compiled(folder, 'openms', OPENMS, [...flags, '-lOpenMS', '-lQt5Core']);
}

function pymzml(folder: string): string[] | string {
  if (spawnSync(PYTHON, ['-c', 'import pymzml'], { stdio: 'ignore' }).status !== 0)
    return 'absent from Debian’s Python';
  const path = join(folder, 'peer.py');
  writeFileSync(path, PYMZML);
  return [PYTHON, path];
}

function compiled(folder: string, name: string, source: string, flags: string[]): string[] | string {
  if (!present('g++')) return 'no C++ compiler';
  const [from, to] = [join(folder, `${name}.cpp`), join(folder, name)];
  writeFileSync(from, source);
  const args = ['-std=c++17', '-O2', '-w', '-o', to, from, ...flags];
  const { status, stderr } = spawnSync('g++', args, { encoding: 'utf8' });
  if (status === 0) return [to];
  return `does not compile: ${stderr.split('\n').find((line) => line.includes('error')) ?? 'no reason given'}`;
}
