import type { Context } from 'hono';
import { html } from 'hono/html';
import { parseDay } from '../../core/days/dayNumber.js';
import { winterOf } from '../../core/plan/quietWeeks.js';
import { INVITED_OUTCOMES } from '../../core/tokens.js';
import {
  countCame,
  type InvitedRow,
  listInvited,
  mayTakeBack,
  takeBackInvitation,
} from '../../flow/plan/invited.js';
import { getQuietWeek, inviteUnits, type QuietRow, type QuietWeek } from '../../flow/plan/quietWeek.js';
import { findWorkshop, hasBegun } from '../../flow/settings.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { actButton } from '../cells/actButton.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { type Markup, saidAfter, table, tick, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { unbroken } from '../show.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

const PATH = '/load/quiet';
/** Before the tag, in the name of its tick. */
const TICK = 'unit ';

interface QuietPage {
  readonly quiet: QuietWeek | null;
  readonly invited: readonly InvitedRow[];
  readonly hasBegun: boolean;
}

/** Whom to invite into a quiet week, and what came of it. */
export function quietPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, on: Day | null, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    return markup(viewer, await deps.store.read((tx) => getPage(tx, viewer, on)), after);
  };
  pages.get(PATH, async (c) => c.html(await show(c, parseDay(c.req.query('week') ?? ''), afterQuery(c))));
  pages.post(PATH, async (c) => {
    const fields = await fieldsOf(c);
    const on = parseDay(fields.week ?? '');
    return taken(
      c,
      fields,
      async () => {
        const { texts, today } = c.get('viewer');
        const { fact } = fields;
        if (fact !== undefined) {
          const why = texts.plan.quiet.takenBackWhy;
          await change(deps, c, (tx, entry) => takeBackInvitation(tx, fact, { ...entry, why }));
          return `${PATH}?week=${fields.week}&done=taken-back`;
        }
        await change(deps, c, (tx, entry) =>
          inviteUnits(tx, { on: on ?? today, tags: tickedIn(fields) }, entry),
        );
        return `${PATH}?week=${fields.week}&done=done`;
      },
      (after) => show(c, on, after),
    );
  });
}

async function getPage(tx: Tx, { now, today }: Viewer, on: Day | null): Promise<QuietPage> {
  const workshop = await findWorkshop(tx);
  return {
    quiet: await getQuietWeek(tx, now, on),
    invited: await listInvited(tx, now),
    hasBegun: workshop !== undefined && hasBegun(workshop.body, today),
  };
}

const tickedIn = (fields: Fields): string[] =>
  Object.keys(fields)
    .filter((name) => name.startsWith(TICK))
    .map((name) => name.slice(TICK.length));

function markup(viewer: Viewer, { quiet, invited, hasBegun: isOn }: QuietPage, after: After): Markup {
  const { quiet: says } = viewer.texts.plan;
  return page(viewer, {
    title: says.title,
    current: 'load',
    body: html`
<h1>${says.title}</h1>
${saidAfter(after.fault, after.done === 'done' ? says.done : after.done === 'taken-back' ? says.takenBack : undefined)}
${quiet === null ? nextStep(winterOf(viewer.zone, viewer.today) === null ? says.busy : says.none, '/load', viewer.texts.plan.load.title) : weekMarkup(viewer, quiet, isOn, after)}
${when(invited.length > 0, () => invitedMarkup(viewer, invited))}`,
  });
}

function weekMarkup(
  viewer: Viewer,
  { week, winter, rows, calls, fits }: QuietWeek,
  isOn: boolean,
  after: After,
): Markup {
  const { words, today } = viewer;
  const { quiet: says } = viewer.texts.plan;
  const month = words.months([Number(winter.before.slice(5, 7))]);
  const isTicked = ({ unit }: QuietRow, place: number): boolean =>
    after.fault === null ? place < fits : after.fields[TICK + unit] !== undefined;
  return html`<p class="lead">${says.lead(words.range(week.from, week.to, today), month)}</p>
${when(!isOn, () => html`<p><strong>${says.resting}</strong></p>`)}
${
  rows.length === 0
    ? nextStep(says.noneDue, '/load', viewer.texts.plan.load.title)
    : html`<form method="post" action="${PATH}">${formToken(viewer)}<input type="hidden" name="week" value="${week.from}">
<p>${says.room(fits)}</p>
${rows.map((row, place) => tick(TICK + row.unit, rowText(viewer, row), isTicked(row, place)))}
${actButton({ id: 'invite', label: says.submit, tells: says.tells, look: 'mails' })}</form>`
}
${when(calls.length > 0, () => html`<h2>${says.callsTitle}</h2><p>${says.callsLead}</p>${callTable(viewer, calls)}`)}`;
}

const likelyText = ({ words, texts, today }: Viewer, { state, likely }: QuietRow): string => {
  const { quiet: says } = texts.plan;
  if (state !== 'in-time' && state !== 'coming-up') return words.state[state];
  return likely === null ? says.someDay : says.likely(words.day(likely, today));
};

const rowText = (viewer: Viewer, row: QuietRow): string =>
  `${row.unit}, ${row.bike} (${row.rider}): ${viewer.words.serviceKind(row.serviceKind)}, ${likelyText(viewer, row)}`;

const unitLink = (tag: string): Markup => html`<a href="${pathOfUnit(tag)}">${tag}</a>`;
const phoneLink = (phone: string | null): Markup =>
  when(phone !== null, () => html`<br><a href="tel:${phone!.replaceAll(' ', '')}">${unbroken(phone!)}</a>`);

function callTable(viewer: Viewer, calls: readonly QuietRow[]): Markup {
  const { columns } = viewer.texts.plan.quiet;
  return table(
    [columns.unit, columns.service, columns.likely, columns.rider].map((label) => ({ label })),
    calls.map((row) => ({
      head: unitLink(row.unit),
      cells: [
        html`${viewer.words.serviceKind(row.serviceKind)}`,
        html`${likelyText(viewer, row)}`,
        html`${row.rider}${phoneLink(row.phone)}`,
      ],
    })),
  );
}

const takeBackForm = (viewer: Viewer, unit: string, week: Day, factId: string): Markup => {
  const { quiet: says } = viewer.texts.plan;
  return html`<form method="post" action="${PATH}">${formToken(viewer)}<input type="hidden" name="week" value="${week}"><input type="hidden" name="fact" value="${factId}"><button aria-label="${says.takeBackOf(unit)}">${says.takeBack}</button></form>`;
};

function invitedMarkup(viewer: Viewer, invited: readonly InvitedRow[]): Markup {
  const { words, today, texts } = viewer;
  const { quiet: says } = texts.plan;
  const counts = countCame(invited);
  const parts = INVITED_OUTCOMES.filter((came) => counts[came] > 0).map((came) =>
    says.counts[came](words.number(counts[came])),
  );
  const { columns } = says;
  return html`<h2>${says.invitedTitle}</h2><p><strong>${says.counted(words.number(invited.length), words.list(parts))}</strong></p>
${table(
  [columns.unit, columns.service, columns.rider, columns.week, columns.came].map((label) => ({ label })),
  invited.map(({ factId, unit, serviceKind, rider, phone, week, came }) => ({
    head: unitLink(unit),
    cells: [
      html`${words.serviceKind(serviceKind)}`,
      html`${rider ?? texts.due.noRider}${when(came === 'to-call', () => phoneLink(phone))}`,
      html`${words.range(week.from, week.to, today)}`,
      html`${says.came[came]}${when(mayTakeBack({ came }), () => takeBackForm(viewer, unit, week.from, factId))}`,
    ],
  })),
)}`;
}
