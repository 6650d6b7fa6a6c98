/** An mzQC 1.0.0 document (HUPO Proteomics Standards Initiative; schema of 2025) from the metrics of one or many runs. */
import { ownVocabulary } from './own-terms.ts';
import type { CvTerm, QualityMetric } from './psi-metrics.ts';

export interface MzqcRun {
  /** File name without folders. */
  name: string;
  /** Of the bytes as stored. */
  sha256: string;
  format: 'mzML' | 'mzXML';
  metrics: readonly QualityMetric[];
}

export interface MzqcOptions {
  /** ISO 8601 with its zone. */
  created: string;
  /** Of the program. */
  version: string;
  description?: string;
}

const formats: Record<MzqcRun['format'], CvTerm> = {
  mzML: { accession: 'MS:1000584', name: 'mzML format' },
  mzXML: { accession: 'MS:1000566', name: 'ISB mzXML format' },
};

/** At least one run: the schema wants one. */
export function mzqcDocument(runs: readonly MzqcRun[], options: MzqcOptions): { mzQC: object } {
  const names = uniqueNames(runs);
  return {
    mzQC: {
      version: '1.0.0',
      creationDate: options.created,
      ...(options.description === undefined ? {} : { description: options.description }),
      runQualities: runs.map((run, i) => ({
        metadata: {
          label: names[i]!,
          inputFiles: [
            {
              name: names[i]!,
              // The name alone: where a lab keeps its files is nobody's business.
              location: `file:///${encodeURIComponent(run.name)}`,
              fileFormat: formats[run.format],
              fileProperties: [{ accession: 'MS:1003151', name: 'SHA-256', value: run.sha256 }],
            },
          ],
          analysisSoftware: [
            {
              accession: 'MS:1000799',
              name: 'custom unreleased software tool',
              value: 'Steadycone',
              version: options.version,
            },
          ],
        },
        qualityMetrics: run.metrics,
      })),
      controlledVocabularies: [
        {
          name: 'Proteomics Standards Initiative Mass Spectrometry Ontology',
          uri: 'http://purl.obolibrary.org/obo/ms.obo',
          version: '4.1.257',
        },
        { name: 'Unit Ontology', uri: 'http://purl.obolibrary.org/obo/uo.obo' },
        ownVocabulary,
      ],
    },
  };
}

/** The format wants every input file under a name of its own: of equal names the later ones carry a piece of their hash. */
function uniqueNames(runs: readonly MzqcRun[]): string[] {
  const seen = new Set<string>();
  return runs.map((run) => {
    let name = run.name;
    for (let length = 8; seen.has(name); length++) name = `${run.name} (${run.sha256.slice(0, length)})`;
    seen.add(name);
    return name;
  });
}
