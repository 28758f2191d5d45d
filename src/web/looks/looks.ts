import { html } from 'hono/html';
import type { Findings } from '../../core/ledger/facts.js';
import {
  DONE,
  type FindingName,
  type LookField,
  lookFields,
  lookNow,
  SECOND_LOOK_NAMES,
  STEPS,
} from '../../core/ledger/findings.js';
import type { UnitSort } from '../../core/ledger/serviceKinds.js';
import { SECOND_LOOKS, type SecondLook } from '../../core/tokens.js';
import type { PartAge } from '../../flow/due/partAges.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import type { EntryForm } from '../entryForm.js';
import { field, type Markup, tick, when } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer, Voice } from '../viewer.js';

/** Returns what is looked at on such a unit as fields of a form, step by step, as the card has them. */
export const looksForm = (viewer: Viewer, sort: UnitSort, fields: Fields): Markup => {
  const all = lookFields(sort, secondIn(viewer, fields));
  return html`${STEPS.map(
    (step) => html`<fieldset class="step"><legend>${viewer.texts.looks.steps[step]}</legend>
${looksFields(
  viewer,
  all.filter((one) => one.step === step),
  fields,
)}
</fieldset>`,
  )}`;
};

/** Second looks that are asked for, and those that were had before nobody asked any more. */
const secondIn = ({ workshop }: Viewer, fields: Fields): SecondLook[] =>
  SECOND_LOOKS.filter((one) => workshop?.secondLook?.includes(one) || fields[SECOND_LOOK_NAMES[one]]);

/** Returns some looks as fields of a form: what is typed, then what is chosen, then what is ticked. */
export const looksFields = (viewer: Viewer, looks: readonly LookField[], fields: Fields): Markup =>
  html`${HOWS.map((how) => {
    const some = looks.filter((one) => one.how === how);
    const shown = some.map((one) => lookField(viewer, one, fields[one.name] ?? ''));
    return when(some.length > 0, () => html`<div class="looks-${how}">${shown}</div>`);
  })}`;
const HOWS: readonly LookField['how'][] = ['text', 'choice', 'tick'];

function lookField(viewer: Viewer, { name, how, looks }: LookField, value: string): Markup {
  const label = viewer.texts.looks.names[name];
  if (how === 'tick') return tick(name, label, value === DONE, DONE);
  if (how === 'text') return field({ name, label, value, isShort: true });
  return html`<fieldset class="taps"><legend>${label}</legend>
${tap(name, '', html`<span aria-hidden="true">–</span><span class="hidden">${viewer.texts.unit.notLooked}</span>`, value)}${looks.map((look) => tap(name, look, lookText(viewer, name, look), value))}
</fieldset>`;
}

/** Chosen, not typed, and by one tap, so that hands full of oil can do it. */
const tap = (name: FindingName, look: string, label: string | Markup, value: string): Markup => html`
<label class="tap"><input type="radio" name="${name}" value="${look}"${when(look === value, () => html` checked`)}>${label}</label>`;

/** Returns how old rings and wipers are, a line each. */
export const ageLines = ({ texts, words }: Voice, ages: readonly PartAge[]): [string, string][] =>
  ages.map(({ part, hours, round }) => {
    const { age } = texts.looks;
    if (hours === null) return [age[part], age.unknown];
    const terrain = words.hours(hoursOfThousandths(hours.terrainMs));
    return [age[part], age.old(terrain, words.hours(hoursOfSeconds(hours.movingS)), round)];
  });

/** Returns what a form says was seen; null where nobody looked. Errors: NotTaken. */
export function readLooks(form: EntryForm, sort: UnitSort): Findings | null {
  const seen = readFields(form, lookFields(sort, secondIn(form.viewer, form.fields)));
  return Object.keys(seen).length === 0 ? null : seen;
}

/** Returns what a form says of some looks. Errors: NotTaken. */
export function readFields(form: EntryForm, fields: readonly LookField[]): Findings {
  const seen: Record<string, string> = {};
  for (const { name, how, looks } of fields) {
    const value = how === 'text' ? form.line(name) : form.fields[name] ? form.choice(name, looks) : null;
    if (value !== null) seen[name] = value;
  }
  return seen;
}

/** Returns a look that the ledger knows in the page's words, and any other as it was typed. */
export function lookText({ texts }: Voice, name: FindingName, value: string): string {
  const words: Readonly<Record<string, string>> = texts.looks.words[name];
  const now = lookNow(name, value);
  return Object.hasOwn(words, now) ? words[now]! : value;
}
