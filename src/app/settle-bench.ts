/** Settle sessions of the page: logs of `steadycone settle` in the bench's own folder, so that both take up the same file. */
import { mkdir, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type SettleListed,
  type SettleOpen,
  settleProofFrom,
  settleReadingFrom,
  settleSessionFrom,
} from '../contract/index.ts';
import { InputError, inputError } from '../core/errors.ts';
import {
  handOver,
  handOverHtml,
  nextMove,
  observationsYaml,
  proofOutcome,
  proofWords,
  reasonWords,
} from '../core/settling/index.ts';
import type { Bench } from './bench.ts';
import { addProof, addReading, newSettleLog, openSettleLog } from './settle.ts';
import { figuresOfReading, type KeptPoint, keepWorkingPoint, withReason } from './settle-story.ts';

interface Place {
  folder: string;
}

const NAME = /^settle-(\d+)\.jsonl$/;
/** Two pages may begin at the same moment. */
const TRIES = 20;

export async function settlings(bench: Place): Promise<SettleListed[]> {
  const listed: SettleListed[] = [];
  for (const id of await idsOf(bench)) {
    const path = pathOf(bench, id);
    try {
      const { session } = await openSettleLog(path);
      listed.push({
        id,
        name: session.name ?? id,
        readings: session.readings.length,
        last: (await stat(path)).mtime.toISOString(),
        invented: session.invented ?? false,
      });
    } catch (trouble) {
      if (!(trouble instanceof InputError)) throw trouble;
      listed.push({ id, name: `${id}: ${trouble.message}`, readings: 0, last: '', invented: false });
    }
  }
  return listed.sort((a, b) => b.last.localeCompare(a.last));
}

export async function beginSettling(bench: Bench, document: unknown): Promise<SettleOpen> {
  const session = settleSessionFrom(await withReason(bench, document));
  await mkdir(join(bench.folder, 'settlings'), { recursive: true });
  const last = Math.max(0, ...(await idsOf(bench)).map((id) => Number(id.slice('settle-'.length))));
  for (let k = 1; k <= TRIES; k++) {
    const id = `settle-${last + k}`;
    try {
      await newSettleLog(pathOf(bench, id), session);
      return await settling(bench, id);
    } catch (trouble) {
      const taken = trouble instanceof InputError && /does not exist yet/.test(trouble.message);
      if (!taken || k === TRIES) throw trouble;
    }
  }
  throw new Error('no free name for the session');
}

export async function settling(bench: Place, id: string): Promise<SettleOpen> {
  const { session, warnings } = await openSettleLog(pathOf(bench, id));
  const { because, proofs = [] } = session;
  return {
    id,
    session,
    advice: nextMove(session),
    warnings,
    because: because === undefined ? null : reasonWords(because),
    proofs: proofs.map((proof) => ({
      outcome: proofOutcome(because?.before, proof),
      sentence: proofWords(because?.before, proof),
      reading_id: proof.after.reading_id ?? null,
    })),
  };
}

/** Adds a reading; without a time it was taken now. */
export async function settleFurther(
  bench: Place,
  id: string,
  document: unknown,
  now: Date,
): Promise<SettleOpen> {
  const path = pathOf(bench, id);
  const { began, session } = await openSettleLog(path);
  const since = Math.round((now.getTime() - began.getTime()) / 1000);
  const time_s = Math.max(session.readings.at(-1)?.time_s ?? 0, since);
  const given: object = typeof document === 'object' && document !== null ? document : {};
  await addReading(path, settleReadingFrom({ time_s, ...given }), now);
  return settling(bench, id);
}

/** Links a reading of the bench, or the figures of a trace that the page read, to the session. */
export async function proveSettling(
  bench: Bench,
  id: string,
  document: unknown,
  now: Date,
): Promise<SettleOpen> {
  const path = pathOf(bench, id);
  await openSettleLog(path);
  const given: object = typeof document === 'object' && document !== null ? document : {};
  const after = 'reading_id' in given ? await figuresOfReading(bench, String(given.reading_id)) : given;
  await addProof(path, settleProofFrom({ after, when: now.toISOString() }));
  return settling(bench, id);
}

/** The working point as an item of the bench. */
export async function keepSettling(bench: Bench, id: string, who: string): Promise<KeptPoint> {
  return keepWorkingPoint(bench, await openSettleLog(pathOf(bench, id)), id, who);
}

/** `html`: the one-page hand-over; `yaml`: rows for the plan's calibration; `json`: both with the session. */
export async function settleExport(
  bench: Place,
  id: string,
  as: string,
): Promise<{ type: string; text: string }> {
  const { session } = await openSettleLog(pathOf(bench, id));
  const over = handOver(session);
  if (as === 'html') return { type: 'text/html; charset=utf-8', text: handOverHtml(session, over) };
  if (as === 'yaml')
    return { type: 'application/yaml; charset=utf-8', text: observationsYaml(over.observations) };
  if (as === 'json')
    return { type: 'application/json; charset=utf-8', text: JSON.stringify({ session, ...over }, null, 2) };
  throw inputError('unknown', 'export', as.slice(0, 20), 'html, yaml or json');
}

async function idsOf(bench: Place): Promise<string[]> {
  const names = await readdir(join(bench.folder, 'settlings')).catch(() => [] as string[]);
  return names.filter((name) => NAME.test(name)).map((name) => name.replace(/\.jsonl$/, ''));
}

function pathOf(bench: Place, id: string): string {
  if (!/^settle-\d+$/.test(id))
    throw inputError('unknown', 'settle session', `"${id.slice(0, 40)}"`, 'settle-NUMBER');
  return join(bench.folder, 'settlings', `${id}.jsonl`);
}
