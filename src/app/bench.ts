/** The bench as the tasks use it: the store together with the clock and the version that stamp every entry. */
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import type { BenchEntry, BenchItem, NoteRequest } from '../contract/index.ts';
import {
  type BenchExport,
  type DriverName,
  type ListFilter,
  noteRequestFrom,
  openStore,
  type Stamp,
  type Store,
} from '../store/index.ts';
import { version } from './package-root.ts';

export interface Bench {
  readonly folder: string;
  /** The SQLite driver in use. */
  readonly driver: DriverName;
  readonly version: string;
  readonly store: Store;
  list(filter?: ListFilter): Promise<BenchItem[]>;
  show(id: string): Promise<BenchEntry>;
  /** Checks the request and returns the note as it was stored. */
  note(request: NoteRequest): Promise<BenchItem>;
  exportAll(): Promise<BenchExport>;
  /** The export as text, one entry in memory at a time. */
  exportPieces(): AsyncGenerator<string, void, undefined>;
  /** Who, when and which version, for one entry. */
  stamp(who: string, invented?: boolean): Stamp;
  close(): Promise<void>;
}

export interface BenchOptions {
  driver?: DriverName | undefined;
  /** Default: the computer's clock. */
  now?: (() => Date) | undefined;
  /** Default: the version of this package. */
  version?: string | undefined;
}

/** `STEADYCONE_HOME`, else `.steadycone` in the person's home folder. */
export function benchFolder(environment: NodeJS.ProcessEnv = process.env): string {
  const stated = environment.STEADYCONE_HOME?.trim();
  return resolve(stated ? stated : join(homedir(), '.steadycone'));
}

export async function openBench(folder: string = benchFolder(), options: BenchOptions = {}): Promise<Bench> {
  const store = await openStore(resolve(folder), { driver: options.driver });
  const now = options.now ?? (() => new Date());
  const stamp = (who: string, invented = false): Stamp => ({
    who: who.trim(),
    when: now().toISOString(),
    version: options.version ?? version(),
    invented,
  });
  return {
    folder: store.folder,
    driver: store.driver,
    version: options.version ?? version(),
    store,
    list: (filter) => store.list(filter),
    show: (id) => store.show(id),
    note: async (document) => {
      const request = noteRequestFrom(document);
      const { invented } = (await store.show(request.on)).item;
      const added = await store.note(request, stamp(request.who, invented));
      return (await store.show(added.id)).item;
    },
    exportAll: () => store.exportAll(),
    exportPieces: () => store.exportPieces(),
    stamp,
    close: () => store.close(),
  };
}
