import type { Question } from '../core/settle.js';

/** What the tray asks, in words that a rider can act on. */
export const QUESTIONS: Readonly<Record<Question, string>> = {
  'no-times': 'This track has no times. When was it ridden, and for how long?',
  'clock-unset': 'The clock of the recorder was not set. When did this ride start?',
  'clock-future': 'This ride lies in the future. When did it start?',
  'sport-unclear':
    'The file does not say what was done, and the speeds look unlike a bicycle. Is this a bike ride?',
  vehicle: 'Part of this looks like riding in a vehicle. Was it ridden by bike?',
  who: 'Whose ride is this?',
  'which-bike': 'Which bike was this on?',
  'same-ride-shifted': 'The same track was recorded at another hour. Is this a ride of its own?',
  'same-ride-unclear': 'This overlaps with another ride. Is it a ride of its own?',
};

/** What is said of a damaged file, once it counts. */
export const DAMAGED = 'The file is damaged: what could be read of the ride counts.';
export const DAMAGED_AND_COVERED =
  'The file is damaged; another recording of the ride is sound and counts in its place.';
