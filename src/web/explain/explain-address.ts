/** An explain session as the query of its address: what is explained, what was answered, what cannot be seen. */
export interface ExplainState {
  reading?: string | undefined;
  emitter?: string | undefined;
  setup?: string | undefined;
  /** What a current trace says; the trace page links here with it. */
  current?: { regime: string; probability: number; multipleOfExpected?: number } | undefined;
  answers: { observable: string; outcome: string }[];
  cannot: string[];
}

/** Entries that are no answer are left out: an address may be mistyped. */
export function stateOf(search: string): ExplainState {
  const query = new URLSearchParams(search);
  const word = (name: string) => query.get(name)?.trim() || undefined;
  const listed = (name: string) => (query.get(name) ?? '').split(',').filter((entry) => entry !== '');
  const answers = new Map<string, string>();
  for (const entry of listed('saw')) {
    const [observable, outcome] = entry.split('.');
    if (observable && outcome) answers.set(observable, outcome);
  }
  return {
    reading: word('reading'),
    emitter: word('emitter'),
    setup: word('setup'),
    current: currentOf(word('regime'), word('sure'), word('current_multiple')),
    answers: [...answers].map(([observable, outcome]) => ({ observable, outcome })),
    cannot: [...new Set(listed('cannot'))].filter((id) => !answers.has(id)),
  };
}

function currentOf(regime?: string, sure?: string, multiple?: string): ExplainState['current'] {
  const probability = Number(sure);
  if (regime === undefined || sure === undefined || !(probability >= 0 && probability <= 1)) return undefined;
  const times = Number(multiple);
  return multiple !== undefined && times >= 0
    ? { regime, probability, multipleOfExpected: times }
    : { regime, probability };
}

export function searchOf({ reading, emitter, setup, current, answers, cannot }: ExplainState): string {
  const query = new URLSearchParams();
  if (reading) query.set('reading', reading);
  if (emitter) query.set('emitter', emitter);
  if (setup) query.set('setup', setup);
  if (current) {
    query.set('regime', current.regime);
    query.set('sure', String(current.probability));
    if (current.multipleOfExpected !== undefined)
      query.set('current_multiple', String(current.multipleOfExpected));
  }
  if (answers.length > 0)
    query.set('saw', answers.map(({ observable, outcome }) => `${observable}.${outcome}`).join(','));
  if (cannot.length > 0) query.set('cannot', cannot.join(','));
  const text = query.toString().replaceAll('%2C', ',');
  return text === '' ? '' : `?${text}`;
}

/** A new answer takes the place of an older one to the same question. */
export function withAnswer(state: ExplainState, observable: string, outcome: string): ExplainState {
  const answers = state.answers.filter((one) => one.observable !== observable);
  return {
    ...state,
    answers: [...answers, { observable, outcome }],
    cannot: state.cannot.filter((id) => id !== observable),
  };
}

export function withCannot(state: ExplainState, observable: string): ExplainState {
  return {
    ...without(state, observable),
    cannot: [...state.cannot.filter((id) => id !== observable), observable],
  };
}

export function without(state: ExplainState, observable: string): ExplainState {
  return {
    ...state,
    answers: state.answers.filter((one) => one.observable !== observable),
    cannot: state.cannot.filter((id) => id !== observable),
  };
}

/** The explanation of what is known so far. */
export function explanationHref(part: Partial<ExplainState> = {}): string {
  return `/explain${searchOf({ answers: [], cannot: [], ...part })}`;
}

/** The guide, opened at one test. */
export function guideHref(state: ExplainState, test?: string): string {
  const search = searchOf(state);
  if (test === undefined) return `/explain/guide${search}`;
  return `/explain/guide${search}${search === '' ? '?' : '&'}${new URLSearchParams({ test })}`;
}
