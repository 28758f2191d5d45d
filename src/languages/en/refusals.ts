/** English on pages: what commands say, with days as people say them and without the ids of facts, which no page shows. */
import { REFUSALS, type RefusalCode, type Told } from '../../core/refusals.js';
import { type Around, dayText, type RefusalWords, weekdayText } from '../refusals.js';

const HELD: Readonly<Record<string, string>> = {
  unrecorded: 'an unrecorded share',
  interval: 'an interval',
  fitting: 'a fitting',
  hours: 'hours entered by hand',
  part: 'a part',
  service: 'a service',
};

const OTHERWISE: Partial<RefusalWords> = {
  'interval-there': () => 'There is an interval for these units already; correct that one.',
  'void-already': () => 'This line is void already.',
  'on-only-then': (_, { tag }) => `${tag} went on only then: correct that fitting instead of swapping.`,
  held: (_, of) =>
    of.by in HELD ? `This cannot be made void: on it stands ${HELD[of.by]}.` : REFUSALS.held(of),
};

/** Values that are a day or a moment; of a day at the bench people want to know the weekday. */
const DAYS = ['on', 'first', 'from', 'to', 'at'];
const BENCH_DAYS = ['day', 'free'];

function withDays(key: string, value: unknown, around: Around): unknown {
  if (Array.isArray(value)) return value.map((one) => withDays(key, one, around));
  if (typeof value === 'string')
    return DAYS.includes(key)
      ? dayText(value, around)
      : BENCH_DAYS.includes(key)
        ? weekdayText(value, around)
        : value;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [name, withDays(name, inner, around)]),
  );
}

export function refusalEn(code: RefusalCode, values: readonly unknown[], around: Around): Told {
  const other = OTHERWISE[code] as ((around: Around, ...values: unknown[]) => Told) | undefined;
  if (other) return other(around, ...values);
  const told = (REFUSALS[code] as (...values: unknown[]) => Told)(
    ...values.map((value) => withDays('', value, around)),
  );
  return typeof told === 'string' ? withoutFact(told) : [withoutFact(told[0]), told[1]];
}

const withoutFact = (text: string): string => text.replace(/ \(fact [^)]*\)/, '');
