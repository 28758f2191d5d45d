import type { Turn } from '../ports/loops.js';

/** A turn that lasts until all is done, as a command has it. */
export const WHOLE_TURN: Turn = {
  isOver: () => false,
  signal: new AbortController().signal,
  doing: () => undefined,
};
