/** A repeatable source of chance: the same seed gives the same numbers on every machine. */
export interface Chance {
  /** From 0 up to, not including, 1. */
  next(): number;
  between(low: number, high: number): number;
  /** Mean 0, standard deviation 1. */
  normal(): number;
}

const hashOf = (text: string): number => {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
};

/** Returns the chance that belongs to a seed. Source: the public-domain generator mulberry32. */
export const seeded = (seed: string): Chance => {
  let state = hashOf(seed);
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    // Twelve uniforms: near enough to normal, and free of functions that may differ in the last bit.
    normal: () => {
      let sum = -6;
      for (let i = 0; i < 12; i += 1) sum += next();
      return sum;
    },
  };
};
