import { z } from 'zod';

/** Ids read `kind-number`, for example `run-3`. */
export const benchKinds = ['emitter', 'setup', 'plan', 'run', 'reading', 'point', 'note'] as const;
export type BenchKind = (typeof benchKinds)[number];

export const benchItemSchema = z.object({
  id: z.string(),
  kind: z.enum(benchKinds),
  title: z.string(),
  /** ISO 8601, UTC. */
  when: z.string(),
  who: z.string(),
  /** Version of Steadycone that computed or stored it. */
  version: z.string(),
  invented: z.boolean(),
  /** The item this one belongs to: a plan's set-up, a reading's run, a note's subject. */
  on: z.string().optional(),
});
export type BenchItem = z.infer<typeof benchItemSchema>;

/** One item with its whole document and the notes on it. */
export interface BenchEntry {
  item: BenchItem;
  document: unknown;
  related: BenchItem[];
}

export const noteRequestSchema = z.object({
  on: z.string().min(3),
  text: z.string().trim().min(1).max(2000),
  who: z.string().trim().max(80).default(''),
});
export type NoteRequest = z.infer<typeof noteRequestSchema>;
