/** Returns the next number of its sequence, from 0 up to but not reaching 1. */
export type Random = () => number;

/** 32-bit FNV-1a, then an avalanche, so that seeds differing in one character share nothing. */
const hash = (text: string): number => {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
};

/**
 * Returns a generator whose sequence depends on the seed alone, on every machine.
 * Source: FNV-1a (public domain) seeds a 32-bit Weyl sequence with a multiplicative mixer (period 2^32).
 */
export const seededRandom = (seed: string): Random => {
  let state = hash(seed);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
};
