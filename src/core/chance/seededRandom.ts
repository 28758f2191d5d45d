/** Returns the next number of its sequence, from 0 up to but not reaching 1. */
export type Random = () => number;

/** 32-bit FNV-1a, then an avalanche, so that seeds differing in one character share nothing. */
const hash = (text: string): number => {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return scattered(h);
};

const scattered = (value: number): number => {
  let h = Math.imul(value ^ (value >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
};

/**
 * Returns a generator whose sequence depends on the seed alone, on every machine.
 * Source: FNV-1a (public domain) seeds a 32-bit Weyl sequence with a multiplicative mixer (period 2^32).
 */
export const seededRandom = (seed: string): Random => sequenceFrom(hash(seed));

/** Far apart in the sequence for neighbouring numbers. Source: 2^32 over the golden ratio, odd. */
const STRIDE = 0x9e3779b1;

/** Returns generators by number, each with a sequence of its own that depends on seed and number alone. */
export const seededRandoms = (seed: string): ((number: number) => Random) => {
  const base = hash(seed);
  return (number) => sequenceFrom(scattered(base + Math.imul(number, STRIDE)));
};

const sequenceFrom = (start: number): Random => {
  let state = start;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
};
