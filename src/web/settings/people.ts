import { html } from 'hono/html';
import { z } from 'zod';
import type { BenchPerson, Fact, WorkshopFact } from '../../core/ledger/facts.js';
import { isLine } from '../../core/lines.js';
import { MINUTES_A_DAY } from '../../core/plan/slots.js';
import { WEEKDAYS } from '../../core/tokens.js';
import { actButton } from '../cells/actButton.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { formToken } from '../layout.js';
import { field, type Markup, tick } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import { keptDays, stretchesAhead, stretchFields, stretchIn, stretchText } from './days.js';
import {
  type SentSetting,
  type SettingAfter,
  seenFact,
  settingFrame,
  settingPage,
  wrongAt,
} from './frame.js';
import { weekdayName } from './workshopForm.js';

const PATH = '/settings/people';
const MOST_PEOPLE = 50;

const nameSchema = z.string().trim().min(1).max(60).refine(isLine);
const minutesSchema = z
  .string()
  .trim()
  .regex(/^\d{1,4}$/)
  .transform(Number)
  .pipe(z.number().min(1).max(1440));
const daysSchema = z.array(z.enum(WEEKDAYS)).min(1);

/** Who works at the bench on which days, and who is away when: the bench has their minutes together. */
export function peoplePage(pages: Pages, deps: WebDeps): void {
  settingPage(pages, deps, {
    path: PATH,
    many: ['days'],
    read: (sent, { body }, viewer) => ({ people: peopleIn(sent, body, viewer) }),
    show: (c, fact, after) => markup(c.get('viewer'), fact, after),
  });
}

/** Errors: NotTaken. */
function peopleIn(sent: SentSetting, { people = [] }: WorkshopFact, viewer: Viewer): readonly BenchPerson[] {
  const { fields } = sent;
  const put = (change: (person: BenchPerson) => BenchPerson | null): BenchPerson[] =>
    people.flatMap((one) => (one.name === fields.person ? (change(one) ?? []) : one));
  switch (fields.does) {
    case 'away':
      return put((one) => ({
        ...one,
        off: keptDays([...one.off, ...stretchIn(fields, viewer)], viewer.today),
      }));
    case 'back':
      return put((one) => ({
        ...one,
        off: one.off.filter((day) => day < (fields.from ?? '') || day > (fields.to ?? '')),
      }));
    case 'remove':
      return put(() => null);
    case 'change': {
      const words = wordsIn(
        sent,
        people.filter(({ name }) => name !== fields.person),
        viewer,
      );
      return put((one) => ({ ...one, ...words }));
    }
    default:
      return [...people, { ...wordsIn(sent, people, viewer), off: [] }];
  }
}

/** Errors: NotTaken, naming the field. */
function wordsIn(
  { fields, valuesOf }: SentSetting,
  others: readonly BenchPerson[],
  { texts: { settings } }: Viewer,
): Omit<BenchPerson, 'off'> {
  const { people: says } = settings;
  const name = nameSchema.safeParse(fields.name ?? '');
  if (!name.success) throw new NotTaken(says.needName, 'name');
  if (
    others.some((one) => one.name.toLowerCase() === name.data.toLowerCase()) ||
    others.length >= MOST_PEOPLE
  )
    throw new NotTaken(says.nameThere(name.data), 'name');
  const days = daysSchema.safeParse(valuesOf('days'));
  if (!days.success) throw new NotTaken(says.needDays, 'days');
  const minutes = minutesSchema.safeParse(fields.minutes ?? '');
  if (!minutes.success) throw new NotTaken(says.needMinutes, 'minutes');
  return { name: name.data, days: days.data, minutesADay: minutes.data };
}

function markup(viewer: Viewer, fact: Fact<'workshop'>, after: SettingAfter): Markup {
  const { people: says } = viewer.texts.settings;
  const { people = [] } = fact.body;
  return settingFrame(viewer, {
    ...{ title: says.title, lead: says.lead, after },
    body: html`
${people.map((person, at) => personPart(viewer, { fact, person, at, after: isAbout(after, person) ? after : QUIET }))}
<details class="entry"${people.length === 0 || after.fields.does === 'add' ? html` open` : ''}><summary><h2>${says.add}</h2></summary>
${personForm(viewer, { fact, id: 'new', after: after.fields.does === 'add' ? after : QUIET, person: null })}</details>`,
  });
}

const QUIET: SettingAfter = { fault: null, fields: {}, done: null, valuesOf: () => [] };
const isAbout = ({ fields }: SettingAfter, { name }: BenchPerson): boolean => fields.person === name;

interface PersonPart {
  readonly fact: Fact<'workshop'>;
  readonly person: BenchPerson;
  readonly at: number;
  readonly after: SettingAfter;
}

function personPart(viewer: Viewer, { fact, person, at, after }: PersonPart): Markup {
  const { texts, words } = viewer;
  const { people: says } = texts.settings;
  const { name, days, minutesADay, off } = person;
  const hidden = (does: string): Markup => html`${formToken(viewer)}
<input type="hidden" name="person" value="${name}"><input type="hidden" name="does" value="${does}">`;
  const away = after.fields.does === 'away' ? after : QUIET;
  const isChanged = after.fields.does === 'change' || after.fields.does === 'remove';
  const weekdays = words.list(days.map((day) => weekdayName(day, words.locale)));
  return html`<section class="entry"><h2>${name}</h2>
<p class="lead">${says.works(weekdays, words.number(minutesADay))}</p>
<ul class="lines">${stretchesAhead(off, viewer.today).map(
    (one) => html`<li><form class="line" method="post" action="${PATH}">${hidden('back')}
<input type="hidden" name="from" value="${one.from}"><input type="hidden" name="to" value="${one.to}">
<span>${says.away(stretchText(viewer, one))}</span><button aria-label="${says.backOf(name, stretchText(viewer, one))}">${says.back}</button></form></li>`,
  )}</ul>
<form class="row" method="post" action="${PATH}">${hidden('away')}
${stretchFields(viewer, { id: String(at), fields: away.fields, wrong: (field) => wrongAt(away, field) })}
<button aria-label="${says.setAwayOf(name)}">${says.setAway}</button></form>
<details${isChanged ? html` open` : ''}><summary>${says.change(name)}</summary>
${personForm(viewer, { fact, id: String(at), person, after: after.fields.does === 'change' ? after : QUIET })}
<form method="post" action="${PATH}">${hidden('remove')}
${actButton({ id: `remove-${at}`, label: says.remove, tells: says.removeHint, look: 'grave', spoken: says.removeOf(name) })}</form></details></section>`;
}

interface PersonForm {
  readonly fact: Fact<'workshop'>;
  /** Tells the fields of several forms on the page apart. */
  readonly id: string;
  readonly person: BenchPerson | null;
  readonly after: SettingAfter;
}

function personForm(viewer: Viewer, { fact, id, person, after }: PersonForm): Markup {
  const { texts, words, workshop } = viewer;
  const { settings } = texts;
  const { people: says } = settings;
  const { fields } = after;
  const isSent = fields.does !== undefined;
  const days: readonly string[] = isSent
    ? after.valuesOf('days')
    : (person?.days ?? workshop?.openDays ?? []);
  const daysWrong = wrongAt(after, 'days').wrong;
  return html`<form method="post" action="${PATH}">${person === null ? formToken(viewer) : seenFact(viewer, fact, after)}
<input type="hidden" name="does" value="${person === null ? 'add' : 'change'}">
${person === null ? '' : html`<input type="hidden" name="person" value="${person.name}">`}
${field({ name: 'name', id: `name-${id}`, label: says.name, value: fields.name ?? person?.name, isRequired: true, ...wrongAt(after, 'name') })}
<fieldset class="field"><legend>${says.days}</legend>${daysWrong === undefined ? '' : html`<p class="wrong">${daysWrong}</p>`}
${WEEKDAYS.map((day) => tick('days', weekdayName(day, words.locale), days.includes(day), day))}</fieldset>
${field({ name: 'minutes', id: `minutes-${id}`, label: says.minutes, value: fields.minutes ?? String(person?.minutesADay ?? MINUTES_A_DAY), inputmode: 'numeric', isShort: true, isRequired: true, ...wrongAt(after, 'minutes') })}
<p><button>${person === null ? says.addButton : settings.save}</button></p></form>`;
}
