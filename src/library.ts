/** What other programs may import: from the bytes of a ride file to what it says. It asks neither clock, disk nor network. */
export { explainWeight, explanationText } from './core/explain.js';
export type { Weights } from './core/ledger.js';
export type { Reading } from './core/reading.js';
export { type ReadingOutcome, readRecording } from './core/readRecording.js';
export type { Recording } from './core/recording.js';
export type { BikeType } from './core/tokens.js';
export { DEFAULT_WEIGHTS, priorOf, terrainOf } from './core/weight.js';
export { readContent } from './files/readFile.js';
export type { FileContent } from './ports.js';
export type { Problem } from './problems.js';
export { hoursOfSeconds, hoursOfThousandths, type Instant, instant } from './units.js';
