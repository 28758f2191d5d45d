import type { Question } from '../../core/rides/ride.js';

/** What the tray asks, in words that a rider can act on. */
export const QUESTIONS: Readonly<Record<Question, string>> = {
  'no-times': 'This track has no times. When was it ridden, and for how long?',
  'clock-unset': 'The clock of the recorder was not set. When did this ride start?',
  'clock-future': 'This ride lies in the future. When did it start?',
  'sport-unclear':
    'The file does not say what was done, and the speeds look unlike a bicycle. Is this a bike ride?',
  'too-sparse': 'Its points lie too far apart to tell when the bike moved. For how long was it ridden?',
  vehicle:
    'Part of this looks like riding in a vehicle, or was recorded after the recorder had been stopped. Was it ridden by bike?',
  who: 'Whose ride is this?',
  'which-bike': 'Which bike was this on?',
  'same-ride-shifted': 'A ride much like another was recorded at another hour. Is this a ride of its own?',
  'same-ride-unclear': 'This overlaps with another ride. Is it a ride of its own?',
  'not-in-file': 'Read again, the file no longer holds this ride. Did it take place?',
  'two-places': 'This bike was recorded in two places at one time. Which bike was this on?',
};

/** Returns the question, with the bikes that were named for the ride where that is why it is asked. */
export const questionText = (question: Question, named: readonly string[]): string =>
  question === 'which-bike' && named.length > 1
    ? `It was handed over for ${named.slice(0, -1).join(', ')} and for ${named.at(-1)}. Which bike was it on?`
    : QUESTIONS[question];

/** A way to answer, as options of the command, with what it means. */
export interface TrayOption {
  readonly option: string;
  readonly means: string;
}

const NO_RIDE: TrayOption = { option: '--ride no', means: 'it is no bike ride: keep it, count nothing' };
const STARTED = 'when it started, such as 2025-05-20T08:00:00Z';

/** Returns the ways to answer a question; `bikes` are the handles of those that it may have been on, `on` of its own. */
export function answersTo(question: Question, bikes: readonly string[], on: string | null): TrayOption[] {
  switch (question) {
    case 'no-times':
      return [{ option: '--on TIME --minutes N', means: `${STARTED}, and for how long it moved` }, NO_RIDE];
    case 'clock-unset':
    case 'clock-future':
      return [{ option: '--on TIME', means: STARTED }, NO_RIDE];
    case 'who':
      return [
        { option: '--rider RIDER', means: 'it is this rider’s' },
        { option: '--bike BIKE', means: 'it was on this bike' },
        NO_RIDE,
      ];
    case 'which-bike':
      return [
        ...(bikes.length > 0 ? bikes : ['BIKE']).map((bike) => ({
          option: `--bike ${bike}`,
          means: 'it was on this bike',
        })),
        NO_RIDE,
      ];
    case 'too-sparse':
      return [
        { option: '--minutes N', means: 'for so long it moved' },
        { option: '--ride yes', means: 'it is a bike ride: what can be told of it counts' },
        NO_RIDE,
      ];
    case 'two-places':
      return [
        ...bikes
          .filter((bike) => bike !== on)
          .map((bike) => ({ option: `--bike ${bike}`, means: 'it was on this bike' })),
        { option: '--ride yes', means: 'both are right, one clock is wrong: both count' },
        NO_RIDE,
      ];
    case 'sport-unclear':
      return [{ option: '--ride yes', means: 'it is a bike ride: it counts' }, NO_RIDE];
    case 'vehicle':
      return [
        { option: '--ride yes', means: 'all of it was ridden: the larger sum counts' },
        { option: '--ride no', means: 'that part was in a vehicle: the smaller sum counts' },
      ];
    case 'same-ride-shifted':
      return [
        { option: '--ride yes', means: 'it is a ride of its own: both count' },
        {
          option: '--ride no',
          means: 'it is the same ride with a wrong clock: count what both recorded once',
        },
      ];
    case 'not-in-file':
      return [{ option: '--ride yes', means: 'it took place: it counts as it did' }, NO_RIDE];
    case 'same-ride-unclear':
      return [
        { option: '--ride yes', means: 'it is a ride of its own: both count' },
        { option: '--ride no', means: 'the two are one ride: count what both recorded once' },
      ];
  }
}

/** What is said of a file whose rides were all indoors. */
export const INDOORS = 'It wears no suspension.';

/** What is said of rides that nothing is charged with. */
export const KEPT_ON_BIKE =
  'No fork or shock was on this bike then. It counts as soon as one is entered as fitted at that time.';
export const KEPT_WITHOUT_BIKE =
  'No fork or shock was on any of the rider’s bikes then. It counts as soon as one is entered as fitted at that time.';

/** What is said of a damaged file, once it counts. */
export const DAMAGED = 'The file is damaged: what could be read of the ride counts.';
export const DAMAGED_AND_COVERED =
  'The file is damaged; another recording of the ride is sound and counts in its place.';
