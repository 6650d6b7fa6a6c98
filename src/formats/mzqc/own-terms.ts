/**
 * What the PSI-MS vocabulary has no term for, as a vocabulary of our own, declared in every mzQC file we write. An
 * accession, once given, keeps its meaning.
 */
import { type CvTerm, type QualityMetric, units } from './psi-metrics.ts';

export const ownVocabulary = {
  name: 'Steadycone spray stability terms',
  uri: 'urn:steadycone:vocabulary:spray-stability',
  version: '1',
} as const;

interface OwnTerm extends CvTerm {
  definition: string;
  unit?: CvTerm;
}

const term = (number: number, name: string, definition: string, unit?: CvTerm): OwnTerm => ({
  accession: `STEADYCONE:${String(number).padStart(7, '0')}`,
  name,
  definition,
  ...(unit ? { unit } : {}),
});

export const ownTerms = {
  verdict: term(1, 'what to do with the run', 'One of: keep; keep these minutes; repeat; cannot tell.'),
  usable_share: term(
    2,
    'usable share of the run',
    'Trustworthy time over the time with scans, of the scan group with the most scans.',
    units.fraction,
  ),
  usable_spans: term(
    3,
    'usable minutes',
    'Table of the trustworthy spans: their starts and their ends, in seconds of run time.',
  ),
  scan_scatter: term(
    4,
    'scan-to-scan scatter of the MS1 level',
    'Robust standard deviation of ln level of each scan less the mean of its two neighbours, divided by sqrt(1.5); scans of one kind only.',
    units.fraction,
  ),
  course_scatter: term(
    5,
    'scatter of the MS1 level about its slow course',
    'Robust standard deviation of ln level less its running median over one minute; elution counts as scatter.',
    units.fraction,
  ),
  dropouts: term(
    6,
    'dropout count',
    'Short or deep falls of the MS1 level with recovery, as this program finds them.',
    units.count,
  ),
  sags: term(
    7,
    'sag count',
    'Falls of 15 to 70 % that last longer than 10 s, as this program finds them.',
    units.count,
  ),
  events: term(
    8,
    'spray events',
    'Table of all events: kind, start and end in seconds of run time, lost share, confidence.',
  ),
  clamped_share: term(
    9,
    'share of MS1 fills at the maximum',
    'Share of ion injection times within 1 % of the longest one; 0 where fewer than 5 % are there.',
    units.fraction,
  ),
  stability: term(
    10,
    'stability grade',
    'One word for how steady the spray was; its definition stands in the description.',
  ),
  undecided: term(
    11,
    'what the run file cannot decide',
    'Sentences, each with the cheapest measurement that would decide.',
  ),
} as const;

export function ownMetric(name: keyof typeof ownTerms, value: unknown, more = ''): QualityMetric {
  const { accession, name: words, definition, unit } = ownTerms[name];
  return {
    accession,
    name: words,
    description: more === '' ? definition : `${definition} ${more}`,
    value,
    ...(unit ? { unit } : {}),
  };
}

/** Columns of our tables. */
export const ownColumns = {
  start: 'STEADYCONE:0000101',
  end: 'STEADYCONE:0000102',
  kind: 'STEADYCONE:0000103',
  lost_share: 'STEADYCONE:0000104',
  confidence: 'STEADYCONE:0000105',
} as const;
