import { setFlagsFromString } from 'node:v8';

/**
 * Clears the heap each time it has grown by half. By itself the engine lets it grow to three times what is in use. Ten
 * years of rides then took more memory than one, though no more of it was in use (measured: 290 MB against 209).
 */
export function boundHeap(): void {
  setFlagsFromString('--heap-growing-percent=50');
}
