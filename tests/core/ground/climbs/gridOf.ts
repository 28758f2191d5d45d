import { surveyOf } from '../../../../src/core/ground/moving/survey.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { type TimeGrid, timeGrids } from '../../../../src/core/ground/samples/timeGrid.js';
import { journey, type Leg, recordingOf, START_MS } from '../../../fixtures/journey.js';

/** Returns legs as the grid of their only run. */
export function gridOf(legs: readonly Leg[]): TimeGrid {
  const recording = recordingOf(journey(legs));
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  const { plane, eleM, distances } = surveyOf(kept, false);
  return timeGrids(kept, { plane, eleM, stepM: distances.stepM })[0]!;
}
