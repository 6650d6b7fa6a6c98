export * from './api.ts';
export { documentJsonSchema, documentKindFrom } from './documents.ts';
export {
  type ExplainLog,
  type ExplainRequest,
  explainLogFrom,
  explainLogSchema,
  explainRequestFrom,
  explainRequestSchema,
} from './explain.ts';
export { type DocumentKind, documentKinds } from './faults.ts';
export { observationsFrom, observationsSchema, planRequestFrom } from './observations.ts';
export {
  type LevelRead,
  type SettleDocument,
  type SettleListed,
  type SettleOpen,
  type SettleStart,
  settleProofFrom,
  settleReadingFrom,
  settleReadingSchema,
  settleReasonFrom,
  settleSessionFrom,
  settleSessionSchema,
} from './settle.ts';
export { setupFrom, setupSchema } from './setup.ts';
