export { canonicalJson, contentHash } from './content-hash.ts';
export { type DriverName, driverNames } from './driver.ts';
export { noteRequestFrom } from './note-request.ts';
export {
  LABEL_LENGTH,
  type QueueAlert,
  type QueuedRun,
  type QueueLabel,
  type QueueRefusal,
  queueLabel,
  type ReadingShort,
} from './queues.ts';
export type { BenchExport, ExportedItem, ListFilter, Reader } from './reader.ts';
export { openStore, type Store, type StoreOptions } from './store.ts';
export { oneLine } from './titles.ts';
export type { Added, PointFacts, ReadingFacts, RunFacts, Stamp, Writer } from './writer.ts';
