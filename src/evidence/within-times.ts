/** Which of rising times lie from one to another, both included: first, and the one past the last. */
export function within(times: ArrayLike<number>, from: number, to: number): [number, number] {
  return [firstPast(times, (time) => time >= from), firstPast(times, (time) => time > to)];
}

/** First place that `past` holds of, where it holds of all after it; by halves. */
export function firstPast<T>(times: ArrayLike<T>, past: (time: T) => boolean): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (past(times[middle]!)) high = middle;
    else low = middle + 1;
  }
  return low;
}
