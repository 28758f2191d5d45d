import { html } from 'hono/html';
import { z } from 'zod';
import type { OwnLines } from '../../core/ledger/facts.js';
import { isLine } from '../../core/lines.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { choice, field } from '../markup.js';
import type { Pages } from '../routes.js';
import { seenFact, settingFrame, settingPage, wrongAt } from './frame.js';

const PATH = '/settings/mails';
/** A mail stays short. */
const MOST_SIGNS = 200;

const whole = (low: number, high: number) =>
  z
    .string()
    .trim()
    .regex(/^\d{1,3}$/)
    .transform(Number)
    .pipe(z.number().min(low).max(high));
const lineSchema = z
  .string()
  .trim()
  .max(MOST_SIGNS)
  .refine(isLine)
  .transform((text) => text || null);
const NO_LINES: OwnLines = { reminder: null, booking: null, ready: null };
const LINES = ['reminder', 'booking', 'ready'] as const satisfies readonly (keyof OwnLines)[];

/** When mails go, how early riders hear, and a line of the workshop's own in each kind. */
export function mailSettingsPage(pages: Pages, deps: WebDeps): void {
  settingPage(pages, deps, {
    path: PATH,
    read: ({ fields }, { body }, { texts: { settings } }) => {
      const read = <T>(name: string, schema: z.ZodType<T>, need: string): T => {
        const given = schema.safeParse(fields[name] ?? '');
        if (!given.success) throw new NotTaken(need, name);
        return given.data;
      };
      const { mails: says } = settings;
      const noticeDays = read('noticeDays', whole(1, 90), settings.needNoticeDays);
      const digestHour = read('digestHour', whole(0, 23), settings.needDigestHour);
      const line = (name: keyof OwnLines): string | null => read(name, lineSchema, says.needLine(MOST_SIGNS));
      const ownLines = { reminder: line('reminder'), booking: line('booking'), ready: line('ready') };
      const isSaid = body.ownLines !== undefined || Object.values(ownLines).some((text) => text !== null);
      return { noticeDays, digestHour, ...(isSaid ? { ownLines } : {}) };
    },
    show: (c, { body, ...fact }, after) => {
      const viewer = c.get('viewer');
      const { settings } = viewer.texts;
      const { mails: says } = settings;
      const { fields } = after;
      const lines = body.ownLines ?? NO_LINES;
      const hour = String(fields.digestHour ?? body.digestHour);
      return settingFrame(viewer, {
        ...{ title: says.title, lead: says.lead, after },
        body: html`
<form method="post" action="${PATH}">${seenFact(viewer, { ...fact, body }, after)}
${field({ name: 'noticeDays', label: settings.noticeDays, hint: settings.noticeDaysHint, value: fields.noticeDays ?? String(body.noticeDays), inputmode: 'numeric', isShort: true, isRequired: true, ...wrongAt(after, 'noticeDays') })}
${choice({
  name: 'digestHour',
  label: settings.digestHour,
  hint: settings.digestHourHint,
  value: hour,
  choices: Array.from({ length: 24 }, (_, of) => ({ value: String(of), label: `${of}:00` })),
  ...(wrongAt(after, 'digestHour').wrong === undefined ? {} : { wrong: wrongAt(after, 'digestHour').wrong }),
})}
<h2>${says.linesTitle}</h2><p class="lead">${says.linesLead}</p>
${LINES.map((name) => field({ name, label: says.lines[name], value: fields[name] ?? lines[name] ?? '', ...wrongAt(after, name) }))}
<p><button class="primary">${settings.save}</button></p></form>`,
      });
    },
  });
}
