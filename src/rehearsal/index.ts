export * from './bench/index.ts';
export { INVENTED_MARK, inventedRun } from './invented-run.ts';
export type { InventedRunOptions, InventedRunTruth, PlantedFault } from './spray-course.ts';
export { inventedRunTruth } from './spray-course.ts';
