import type { Instant } from '../units.js';

export interface Clock {
  now(): Instant;
}
