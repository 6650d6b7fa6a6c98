/**
 * Lets a worker take its messages between two pieces of long work. Awaiting the next bytes of a file does not: they are often there
 * already, and the worker then goes on without looking, deaf to a stop.
 */
export interface Breath {
  /** Resolves at once unless the last breath is longer ago than a view may wait. */
  take(): Promise<void>;
}

const BREATHE_MS = 15;

export function breath(): Breath {
  const { port1, port2 } = new MessageChannel();
  let last = performance.now();
  return {
    async take() {
      if (performance.now() - last < BREATHE_MS) return;
      await new Promise<void>((resolve) => {
        port1.onmessage = () => resolve();
        port2.postMessage(null);
      });
      last = performance.now();
    },
  };
}
