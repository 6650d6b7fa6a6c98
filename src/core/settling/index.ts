export { advise, type Decision, MOST_RAISE_V } from './advise.ts';
export { type FromPlan, fromSetup } from './from-setup.ts';
export {
  type HandOver,
  handOver,
  handOverHtml,
  handOverText,
  marginWords,
  observationsYaml,
} from './hand-over.ts';
export { type Ledger, ledgerOf } from './ledger.ts';
export { HANDS_CLEAR, nextMove, pointWords, valueWords } from './next-move.ts';
export { onsetLaw, USUAL_TIP } from './onset-law.ts';
export { type LateralAxis, sectionPicture } from './section-picture.ts';
export * from './session.ts';
export {
  type ProofOutcome,
  proofOutcome,
  proofWords,
  type ReadFigures,
  reasonWords,
  type SettleProof,
  type SettleReason,
} from './story.ts';
export { voltagePicture } from './voltage-picture.ts';
export { type PointFacts, type WorkingPoint, workingPoint, workingPointTitle } from './working-point.ts';
