/** What other programs may import: from the bytes of a ride file to what it says. It asks neither clock, disk nor network. */

export { type ReadingOutcome, readRecording } from './core/ground/readRecording.js';
export type { Reading } from './core/ground/samples/reading.js';
export type { Recording } from './core/ground/samples/recording.js';
export { explainWeight } from './core/ledger/explain.js';
export type { Weights } from './core/ledger/ledger.js';
export { DEFAULT_WEIGHTS, priorOf, terrainOf } from './core/ledger/weight.js';
export type { BikeType } from './core/tokens.js';
export { readContent } from './files/readFile.js';
export { explanationText } from './languages/explanation.js';
export type { FileContent } from './ports/reader.js';
export type { Problem } from './problems.js';
export { hoursOfSeconds, hoursOfThousandths, type Instant, instant } from './units.js';
