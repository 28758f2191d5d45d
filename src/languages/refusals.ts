import { dayOf } from '../core/days/calendar.js';
import { momentOf } from '../core/ledger/moment.js';
import type { RefusalCode } from '../core/refusals.js';
import type { Day } from '../units.js';
import { ALL } from './all.js';
import { exactFormat } from './formats.js';
import type { Around, RefusalText } from './language.js';
import type { Words } from './words.js';

/** Why something was refused: its code with the values that the words need. */
export interface Refused {
  readonly refusal: string;
  readonly values: readonly unknown[];
}

/** Returns why something was refused, in the language of the words around it. */
function told({ refusal, values }: Refused, around: Around): readonly [message: string, hint?: string] {
  const { refusals } = ALL[around.words.language];
  const of = refusals[refusal as RefusalCode] as (
    around: Around,
    ...values: readonly unknown[]
  ) => RefusalText;
  const said = of(around, ...values);
  return typeof said === 'string' ? [said] : said;
}

export interface PageReader {
  readonly words: Words;
  readonly today: Day;
  readonly zone: string;
}

/** Returns it as people say it, for a page. */
export const refusalText = (refused: Refused, reader: PageReader): string =>
  told(refused, onPages(reader)).join(' ');

/** Returns it as commands take it: days as they are typed, kinds as tokens, facts by their ids. */
export const commandRefusal = (refused: Refused, words: Words): readonly [message: string, hint?: string] =>
  told(refused, inCommands(words));

const onPages = ({ words, today, zone }: PageReader): Around => {
  const dayFor =
    (say: (day: Day, today: Day) => string) =>
    (text: string): string => {
      const at = momentOf(text, zone);
      return at === null ? text : say(dayOf(at, zone), today);
    };
  const { format } = exactFormat(words.locale);
  return {
    words,
    day: dayFor(words.day),
    weekday: dayFor(words.weekday),
    number: format,
    serviceKind: words.serviceKind,
    fact: () => '',
  };
};

const inCommands = (words: Words): Around => {
  const asIs = (text: string): string => text;
  return {
    words,
    day: asIs,
    weekday: asIs,
    number: String,
    serviceKind: asIs,
    fact: (id) => ` (fact ${id})`,
  };
};
