import { html } from 'hono/html';
import { z } from 'zod';
import { RACE_OPEN_DAYS } from '../../core/plan/races.js';
import { MINUTES_A_DAY } from '../../core/plan/slots.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { field, type Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { seenFact, settingFrame, settingPage, wrongAt } from './frame.js';

const PATH = '/settings/bench';

/** The same bounds as those of an import file. */
const whole = (low: number, high: number) =>
  z
    .string()
    .trim()
    .regex(/^\d{1,5}$/)
    .transform(Number)
    .pipe(z.number().min(low).max(high));
const SCHEMAS = {
  minutes: whole(10, 10_000),
  places: z.union([
    z
      .string()
      .trim()
      .length(0)
      .transform(() => null),
    whole(1, 1000),
  ]),
  raceDays: whole(0, 30),
};

/** What the bench can take: minutes a day, places a week, days before a race. */
export function benchSettingsPage(pages: Pages, deps: WebDeps): void {
  settingPage(pages, deps, {
    path: PATH,
    read: ({ fields }, { body }, { texts: { settings } }) => {
      const read = <T>(name: keyof typeof SCHEMAS, schema: z.ZodType<T>, need: string): T => {
        const given = schema.safeParse(fields[name] ?? '');
        if (!given.success) throw new NotTaken(need, name);
        return given.data;
      };
      const hasPeople = (body.people ?? []).length > 0;
      const { bench: says } = settings;
      return {
        ...(hasPeople ? {} : { benchMinutesADay: read('minutes', SCHEMAS.minutes, says.needMinutes) }),
        placesAWeek: read('places', SCHEMAS.places, says.needPlaces),
        raceOpenDays: read('raceDays', SCHEMAS.raceDays, says.needRaceDays),
      };
    },
    show: (c, fact, after) => {
      const viewer = c.get('viewer');
      const { settings } = viewer.texts;
      const { bench: says } = settings;
      const { placesAWeek, benchMinutesADay, raceOpenDays, people = [] } = fact.body;
      const number = (name: string, label: string, hint: string, value: number | null | undefined): Markup =>
        field({
          ...{ name, label, hint, inputmode: 'numeric', isShort: true, ...wrongAt(after, name) },
          value: after.fields[name] ?? (value == null ? '' : String(value)),
        });
      return settingFrame(viewer, {
        ...{ title: says.title, lead: says.lead, after },
        body: html`
<form method="post" action="${PATH}">${seenFact(viewer, fact, after)}
${
  people.length === 0
    ? number('minutes', says.minutes, says.minutesHint, benchMinutesADay ?? MINUTES_A_DAY)
    : html`<p>${says.byPeople} <a href="/settings/people">${settings.people.title}</a></p>`
}
${number('places', says.places, says.placesHint, placesAWeek)}
${number('raceDays', says.raceDays, says.raceDaysHint, raceOpenDays ?? RACE_OPEN_DAYS)}
<p><button class="primary">${settings.save}</button></p></form>`,
      });
    },
  });
}
