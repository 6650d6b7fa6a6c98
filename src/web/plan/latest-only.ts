/** Work done one at a time; of what is asked meanwhile only the last is done. */
export function latestOnly<T>(work: (item: T) => Promise<void>): (item: T) => void {
  let waiting: { item: T } | undefined;
  let busy = false;
  const run = async () => {
    busy = true;
    while (waiting !== undefined) {
      const { item } = waiting;
      waiting = undefined;
      await work(item);
    }
    busy = false;
  };
  return (item) => {
    waiting = { item };
    if (!busy) void run();
  };
}
