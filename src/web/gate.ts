/** Lets those who wait go before what is left of a work, which then goes on where it was. */
export type GiveWay = () => Promise<void>;

/** Runs work a few at a time; returns null, without running it, when too much is waiting already. */
export type Gate = <T>(work: (giveWay: GiveWay) => Promise<T>, rank?: number) => Promise<T | null>;

interface Waiting {
  readonly rank: number;
  /** What was begun is never turned away. */
  readonly isBegun: boolean;
  /** Told whether its turn has come, or it is turned away. */
  readonly call: (isItsTurn: boolean) => void;
}

/**
 * Returns a gate that lets `most` through at once and lets `longest` wait: those of the lowest rank first, and among them
 * who came first. When too many wait, the last of them all is turned away, which need not be who came last.
 */
export function gate(most: number, longest: number): Gate {
  let running = 0;
  const waiting: Waiting[] = [];
  const turn = (rank: number, isBegun: boolean): Promise<boolean> =>
    new Promise((call) => {
      const after = waiting.findIndex((one) => one.rank > rank);
      waiting.splice(after === -1 ? waiting.length : after, 0, { rank, isBegun, call });
      const last = waiting.findLastIndex((one) => !one.isBegun);
      if (waiting.length > longest && last >= 0) waiting.splice(last, 1)[0]!.call(false);
    });
  const leave = (): void => {
    const next = waiting.shift();
    if (next) next.call(true);
    else running--;
  };
  return async (work, rank = 0) => {
    if (running < most) running++;
    else if (!(await turn(rank, false))) return null;
    try {
      return await work(async () => {
        const next = waiting.shift();
        if (next === undefined) return;
        const again = turn(rank, true);
        next.call(true);
        await again;
      });
    } finally {
      leave();
    }
  };
}

/** Returns gates by key, each made when it is first needed and let go of when nobody is at it. */
export function gates(
  most: number,
  longest: number,
): <T>(key: string, work: () => Promise<T>) => Promise<T | null> {
  const open = new Map<string, { readonly pass: Gate; inUse: number }>();
  return async (key, work) => {
    const one = open.get(key) ?? { pass: gate(most, longest), inUse: 0 };
    open.set(key, one);
    one.inUse += 1;
    try {
      return await one.pass(work);
    } finally {
      one.inUse -= 1;
      if (one.inUse === 0) open.delete(key);
    }
  };
}
