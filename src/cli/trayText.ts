import type { Question } from '../core/tokens.js';
import type { TrayRow } from '../flow/rides/listTray.js';
import { tray as english } from '../languages/en/pages/tray.js';

// The one text, without all others: a quick command loads it.
const { question: QUESTIONS } = english;

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

const likelyOf = (climbs: TrayRow['climbs']): string =>
  (climbs?.climbs ?? []).flatMap(({ number, isRidden }) => (isRidden ? [number] : [])).join(',') || '1';

/** Returns the ways to answer what a ride waits for. */
export function answersTo({
  code,
  bikes,
  bike: on,
  climbs,
}: Pick<TrayRow, 'code' | 'bikes' | 'bike' | 'climbs'>): TrayOption[] {
  switch (code) {
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
        { option: '--minutes N', means: 'for how long it moved' },
        { option: '--ride yes', means: 'it is a bike ride: what can be read of it counts' },
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
    case 'climbs':
      return [
        { option: `--ridden ${likelyOf(climbs)}`, means: 'these climbs were ridden, the others not' },
        { option: '--ridden all', means: 'all of them were ridden' },
        { option: '--ridden none', means: 'none of them was ridden' },
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
