export interface Grading {
  /** Size of the first and of the last panel; both may come out smaller, never by more than `ratio`. */
  first: number;
  last: number;
  /** Growth from a panel to the next one inward. */
  ratio: number;
  /** No panel is larger than this. */
  largest?: number;
}

/** Break points from 0 to `length`: panels grow by `ratio` from both ends and meet. */
export function gradedBreaks(length: number, grading: Grading): number[] {
  const { ratio } = grading;
  const largest = grading.largest ?? Number.POSITIVE_INFINITY;
  const fromStart: number[] = [];
  const fromEnd: number[] = [];
  let nextStart = Math.min(grading.first, largest, length);
  let nextEnd = Math.min(grading.last, largest, length);
  let sum = 0;
  while (sum < length) {
    if (nextStart <= nextEnd) {
      fromStart.push(nextStart);
      sum += nextStart;
      nextStart = Math.min(nextStart * ratio, largest);
    } else {
      fromEnd.unshift(nextEnd);
      sum += nextEnd;
      nextEnd = Math.min(nextEnd * ratio, largest);
    }
  }
  const breaks = [0];
  let at = 0;
  for (const size of [...fromStart, ...fromEnd]) {
    at += (size * length) / sum;
    breaks.push(at);
  }
  breaks[breaks.length - 1] = length;
  return breaks;
}
