export { type MzqcOptions, type MzqcRun, mzqcDocument } from './mzqc.ts';
export { ownColumns, ownMetric, ownTerms, ownVocabulary } from './own-terms.ts';
export { type CvTerm, psiMetrics, type QualityMetric, units } from './psi-metrics.ts';
