/**
 * Thins a series to the least and greatest value of each pixel column, so that a redraw costs the width of the plot and
 * not the length of the run, and no spike or dropout vanishes. A series with fewer points than two per column stays whole.
 */
export interface Thinned {
  x: number[];
  /** null lifts the pen. */
  y: (number | null)[];
  /** Over what is drawn; NaN where nothing is. */
  low: number;
  high: number;
}

export interface Span {
  from: number;
  to: number;
}

/** `time` must not fall; `lifts` are sorted times at which the line breaks (the middle of an acquisition gap). */
export function decimate(
  time: ArrayLike<number>,
  value: ArrayLike<number | null>,
  span: Span,
  columns: number,
  lifts: readonly number[] = [],
): Thinned {
  const out: Thinned = { x: [], y: [], low: Number.NaN, high: Number.NaN };
  // One neighbour on each side lets the line run to the edge of the plot.
  const first = Math.max(0, firstAtLeast(time, span.from) - 1);
  const end = Math.min(time.length, firstAtLeast(time, span.to) + 2);
  let lift = lifts.findIndex((at) => at > (time[first] ?? 0));
  if (lift < 0) lift = lifts.length;
  const liftBefore = (t: number) => {
    let lifted = false;
    while (lift < lifts.length && (lifts[lift] as number) <= t) {
      out.x.push(lifts[lift] as number);
      out.y.push(null);
      lift++;
      lifted = true;
    }
    return lifted;
  };
  if (end - first <= 2 * columns) {
    for (let i = first; i < end; i++) {
      liftBefore(time[i] as number);
      push(out, time[i] as number, value[i] ?? null);
    }
    return out;
  }
  const perColumn = (span.to - span.from) / columns;
  let i = first;
  while (i < end) {
    const column = Math.floor(((time[i] as number) - span.from) / perColumn);
    const nextLift = lift < lifts.length ? (lifts[lift] as number) : Number.POSITIVE_INFINITY;
    if (nextLift <= (time[i] as number)) {
      liftBefore(time[i] as number);
      continue;
    }
    let least = -1;
    let most = -1;
    let j = i;
    for (; j < end; j++) {
      const t = time[j] as number;
      if (t >= nextLift || Math.floor((t - span.from) / perColumn) !== column) break;
      const v = value[j];
      if (v === null || v === undefined || Number.isNaN(v)) continue;
      if (least < 0 || v < (value[least] as number)) least = j;
      if (most < 0 || v > (value[most] as number)) most = j;
    }
    if (least < 0) push(out, time[i] as number, null);
    else {
      const [a, b] = least < most ? [least, most] : [most, least];
      push(out, time[a] as number, value[a] as number);
      if (b !== a) push(out, time[b] as number, value[b] as number);
    }
    i = j;
  }
  return out;
}

function push(out: Thinned, t: number, v: number | null): void {
  const drawn = v === null || Number.isNaN(v) ? null : v;
  out.x.push(t);
  out.y.push(drawn);
  if (drawn === null) return;
  if (!(out.low <= drawn)) out.low = drawn;
  if (!(out.high >= drawn)) out.high = drawn;
}

function firstAtLeast(time: ArrayLike<number>, at: number): number {
  let low = 0;
  let high = time.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((time[middle] as number) < at) low = middle + 1;
    else high = middle;
  }
  return low;
}
