import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { addDays } from '../../core/days/calendar.js';
import { parseDay } from '../../core/days/dayNumber.js';
import type { Fact, WorkshopFact } from '../../core/ledger/facts.js';
import { RACE_OPEN_DAYS } from '../../core/plan/races.js';
import { MINUTES_A_DAY } from '../../core/plan/slots.js';
import { getBenchSettings } from '../../flow/counter/benchSettings.js';
import { type BenchWords, setWorkshop } from '../../flow/facts/setWorkshop.js';
import { getSettingsPage } from '../../flow/settings.js';
import type { Day } from '../../units.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

const PATH = '/settings/bench';
/** Nobody closes for longer at a stretch. */
const LONGEST_DAYS = 366;

const whole = (low: number, high: number) =>
  z
    .string()
    .trim()
    .regex(/^\d{1,5}$/)
    .transform(Number)
    .pipe(z.number().min(low).max(high));
/** The same bounds as those of an import file. */
const schema = z.object({
  places: z.union([z.literal('').transform(() => null), whole(1, 1000)]),
  minutes: whole(10, 10_000),
  raceDays: whole(0, 30),
});

/** What the bench can take: places, minutes, days on which it is closed; and where its calendar is. */
export function benchSettingsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const { fact, path } = await deps.store.read((tx) => getBenchSettings(tx, deps.rider?.seal ?? null));
    const calendar = path === null ? null : (deps.publicUrl ?? c.get('visit').origin) + path;
    return markup(c.get('viewer'), { fact, calendar }, after);
  };
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));

  pages.post(PATH, async (c) => {
    const fields = await fieldsOf(c);
    const opened = new Set(await valuesOf(c, 'reopen'));
    const work = async (): Promise<string> => {
      const { fact } = await deps.store.read(getSettingsPage);
      const words = wordsIn(fields, opened, fact.body, c.get('viewer'));
      const id = await change(deps, c, (tx, entry) => setWorkshop(tx, fields.fact ?? '', words, entry));
      return `${PATH}?done=${id === null ? 'unchanged' : 'saved'}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

/** Errors: NotTaken. */
function wordsIn(
  fields: After['fields'],
  reopened: ReadonlySet<string>,
  { closedDays = [] }: WorkshopFact,
  { texts: { benchSettings } }: Viewer,
): BenchWords {
  const given = schema.safeParse(fields);
  if (!given.success) throw new NotTaken(benchSettings.needNumber);
  const { places, minutes, raceDays } = given.data;
  const kept = closedDays.filter((day) => !reopened.has(day));
  const closed = [...kept, ...stretchIn(fields, benchSettings.needStretch)];
  return {
    placesAWeek: places,
    benchMinutesADay: minutes,
    raceOpenDays: raceDays,
    closedDays: [...new Set(closed)].sort(),
  };
}

function stretchIn({ closeFrom = '', closeTo = '' }: After['fields'], need: string): Day[] {
  if (closeFrom === '' && closeTo === '') return [];
  const from = parseDay(closeFrom);
  const to = closeTo === '' ? from : parseDay(closeTo);
  if (from === null || to === null || to < from || to > addDays(from, LONGEST_DAYS)) throw new NotTaken(need);
  const days: Day[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) days.push(day);
  return days;
}

function markup(
  viewer: Viewer,
  { fact, calendar }: { readonly fact: Fact<'workshop'>; readonly calendar: string | null },
  { fault, fields, done }: After,
): Markup {
  const { texts, words, today } = viewer;
  const { benchSettings: says } = texts;
  const { placesAWeek, benchMinutesADay, raceOpenDays, closedDays = [] } = fact.body;
  const ahead = closedDays.filter((day) => day >= today);
  const told: Readonly<Record<string, string>> = {
    saved: texts.settings.saved,
    unchanged: texts.settings.unchanged,
  };
  const number = (name: string, label: string, hint: string, value: number | null | undefined): Markup =>
    field({
      ...{ name, label, hint, inputmode: 'numeric', isShort: true },
      value: fields[name] ?? (value == null ? '' : String(value)),
    });
  return page(viewer, {
    title: says.title,
    current: 'settings',
    body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(fault, told[done ?? ''])}
<form method="post" action="${PATH}">${formToken(viewer)}<input type="hidden" name="fact" value="${fields.fact ?? fact.id}">
${number('minutes', says.minutes, says.minutesHint, benchMinutesADay ?? MINUTES_A_DAY)}
${number('places', says.places, says.placesHint, placesAWeek)}
${number('raceDays', says.raceDays, says.raceDaysHint, raceOpenDays ?? RACE_OPEN_DAYS)}
<h2>${says.closed}</h2>
${ahead.length === 0 ? html`<p>${says.noneClosed}</p>` : html`<p>${says.reopen}</p>`}
${ahead.map((day) => html`<label class="tick"><input type="checkbox" name="reopen" value="${day}">${words.weekday(day, today)}</label>`)}
<div class="row">
${field({ name: 'closeFrom', label: says.closeFrom, type: 'date', value: fields.closeFrom, isShort: true })}
${field({ name: 'closeTo', label: says.closeTo, type: 'date', value: fields.closeTo, isShort: true })}
</div>
<p><button>${texts.settings.save}</button></p></form>
${when(calendar !== null, () => html`<h2>${says.calendar}</h2><p>${says.calendarLead}</p><p><code>${calendar!}</code></p>`)}
<p><a href="/settings">${texts.settings.weights.back}</a></p>`,
  });
}
