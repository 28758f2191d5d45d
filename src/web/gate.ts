/** Runs work a few at a time; returns null, without running it, when too much is waiting already. */
export type Gate = <T>(work: () => Promise<T>) => Promise<T | null>;

/** Returns a gate that lets `most` through at once and lets `longest` wait. */
export function gate(most: number, longest: number): Gate {
  let running = 0;
  const waiting: (() => void)[] = [];
  return async (work) => {
    if (running >= most) {
      if (waiting.length >= longest) return null;
      await new Promise<void>((resolve) => waiting.push(resolve));
    } else running++;
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next) next();
      else running--;
    }
  };
}
