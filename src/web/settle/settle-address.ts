/** What a settle session is begun for, as the query of its address: it survives a reload and can be passed on. */
export interface SettleBegin {
  reading?: string | undefined;
  /** Id of the cause in the catalogue, and the belief in it. */
  cause?: string | undefined;
  probability?: number | undefined;
  emitter?: string | undefined;
  setup?: string | undefined;
}

export function settleHref({ reading, cause, probability, emitter, setup }: SettleBegin): string {
  const query = new URLSearchParams();
  if (reading) query.set('reading', reading);
  if (cause) query.set('cause', cause);
  if (probability !== undefined) query.set('probability', probability.toFixed(3));
  if (emitter) query.set('emitter', emitter);
  if (setup) query.set('setup', setup);
  const text = query.toString();
  return text === '' ? '/settle' : `/settle?${text}`;
}

/** The same as a request to the server; undefined where the address names nothing. */
export function startQuery(search: string): string | undefined {
  const query = new URLSearchParams(search);
  const kept = ['reading', 'cause', 'probability', 'emitter', 'setup'].flatMap((name) => {
    const value = query.get(name)?.trim();
    return value ? [[name, value] as [string, string]] : [];
  });
  return kept.length === 0 ? undefined : new URLSearchParams(kept).toString();
}
