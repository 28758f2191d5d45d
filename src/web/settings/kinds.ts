import type { Context } from 'hono';
import { html } from 'hono/html';
import type { ServiceKindFact } from '../../core/ledger/facts.js';
import { UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import {
  getOwnKindsPage,
  type OwnKind,
  type OwnKindsPage,
  type OwnKindWords,
  setOwnKind,
} from '../../flow/counter/ownKinds.js';
import { voidFact } from '../../flow/facts/changeFact.js';
import { actButton } from '../cells/actButton.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { pathOfRule } from '../intervals/intervalScope.js';
import { formToken } from '../layout.js';
import { field, type Markup, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { capitalised, limitsText } from '../show.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { settingFrame } from './frame.js';

const PATH = '/settings/kinds';
const LONGEST_MINUTES = 1440;

/** The workshop's own service kinds: what they restart, what restarts them, minutes, and the way to their interval. */
export function kindsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: SentKind): Promise<Markup> =>
    markup(c.get('viewer'), await deps.store.read(getOwnKindsPage), after);
  const nothingTicked = { restarts: [], restartedBy: [] };
  pages.get(PATH, async (c) => c.html(await show(c, { ...afterQuery(c), ...nothingTicked })));

  pages.post(PATH, async (c) => {
    const fields = await fieldsOf(c);
    const ticked = {
      restarts: await valuesOf(c, 'restarts'),
      restartedBy: await valuesOf(c, 'restartedBy'),
    };
    const work = async (): Promise<string> => {
      const viewer = c.get('viewer');
      const { fact } = fields;
      if (fact && fields.away === 'yes') {
        await change(deps, c, (tx, entry) => voidFact(tx, fact, viewer.texts.settings.kinds.notUsed, entry));
        return `${PATH}?done=saved`;
      }
      const words = { ...readWords(new EntryForm(fields, viewer)), ...ticked };
      const isOther = await change(deps, c, (tx, entry) => setOwnKind(tx, words, fact || null, entry));
      return `${PATH}?done=${isOther ? 'saved' : 'unchanged'}`;
    };
    return taken(c, fields, work, (after) => show(c, { ...after, ...ticked }));
  });
}

interface SentKind extends After {
  readonly restarts: readonly string[];
  readonly restartedBy: readonly string[];
}

/** Errors: NotTaken, naming the field. */
function readWords(form: EntryForm): Omit<OwnKindWords, 'restarts' | 'restartedBy'> {
  const { kinds: says } = form.viewer.texts.settings;
  const name = form.line('name');
  if (name === null) throw new NotTaken(says.needName, 'name');
  const typed = (form.fields.minutes ?? '').trim();
  const minutes = /^\d{1,4}$/.test(typed) ? Number(typed) : 0;
  if (typed !== '' && !(minutes >= 1 && minutes <= LONGEST_MINUTES))
    throw new NotTaken(says.needMinutes, 'minutes');
  return {
    name,
    unitKind: form.choice('unitKind', UNIT_KINDS),
    benchMinutes: typed === '' ? null : minutes,
  };
}

function markup(viewer: Viewer, view: OwnKindsPage, after: SentKind): Markup {
  const { kinds: says } = viewer.texts.settings;
  return settingFrame(viewer, {
    ...{ title: says.title, lead: says.lead, after },
    body: html`
${view.own.length === 0 ? html`<p>${says.nothing}</p>` : view.own.map((one) => ownKind(viewer, view, one, after))}
<h2 class="screen">${says.newTitle}</h2>
${UNIT_KINDS.map((unitKind) => newKind(viewer, view, unitKind, after))}`,
  });
}

function ownKind(viewer: Viewer, view: OwnKindsPage, { fact, rule }: OwnKind, after: SentKind): Markup {
  const { words, texts } = viewer;
  const { kinds: says } = texts.settings;
  const { body } = fact;
  const wasSent = after.fault !== null && after.fields.fact === fact.id;
  const restarts = body.restarts ?? [body.name];
  const lines = [
    says.restarts(words.list(restarts.map((kind) => words.serviceKind(kind)))),
    says.restartedBy(
      words.list(['full', ...(body.restartedBy ?? [])].map((kind) => words.serviceKind(kind))),
    ),
  ];
  const limits = rule ?? { ...body, movingHoursCeiling: 'default' as const };
  const address = { unitKind: body.unitKind, serviceKind: body.name };
  const path = pathOfRule({ ...address, unitTag: null, fleetHandle: null, scope: { model: null } });
  return html`<section class="entry"><h2>${capitalised(body.name)}, ${words.unitKind[body.unitKind]}</h2>
<p>${lines[0]}<br>${lines[1]}</p>
<p>${says.interval(limitsText(limits, viewer))} <a href="${path}">${says.setInterval}</a></p>
<details${when(wasSent, () => html` open`)}><summary>${says.change}</summary>
${kindForm(viewer, view, body.unitKind, { body, fact: fact.id, ...(wasSent ? { sent: after } : {}) })}
<form method="post" action="${PATH}">${formToken(viewer)}<input type="hidden" name="away" value="yes"><input type="hidden" name="fact" value="${fact.id}">
${actButton({ id: `void-${fact.id}`, label: says.void, tells: says.voidLead, look: 'grave' })}</form></details></section>`;
}

function newKind(viewer: Viewer, view: OwnKindsPage, unitKind: UnitKind, after: SentKind): Markup {
  const wasSent = after.fault !== null && !after.fields.fact && after.fields.unitKind === unitKind;
  return html`<details class="entry"${when(wasSent, () => html` open`)}><summary><h3>${viewer.words.unitKind[unitKind]}</h3></summary>
${kindForm(viewer, view, unitKind, { body: null, fact: '', ...(wasSent ? { sent: after } : {}) })}</details>`;
}

/** Shape: `body` is what stands there; null for a new kind. */
function kindForm(
  viewer: Viewer,
  { clocks }: OwnKindsPage,
  unitKind: UnitKind,
  {
    body,
    fact,
    sent,
  }: { readonly body: ServiceKindFact | null; readonly fact: string; readonly sent?: SentKind },
): Markup {
  const { texts, words } = viewer;
  const { kinds: says } = texts.settings;
  const id = `${unitKind}-${body?.name ?? 'new'}`;
  const others = clocks[unitKind].filter((clock) => clock !== body?.name);
  const ticks = (name: 'restarts' | 'restartedBy', all: readonly string[]): Markup => {
    const chosen = sent?.[name] ?? body?.[name] ?? [];
    return html`<fieldset class="ticks"><legend>${says.fields[name]}</legend>${all.map(
      (clock) =>
        html`<label class="tick"><input type="checkbox" name="${name}" value="${clock}"${when(chosen.includes(clock), () => html` checked`)}>${words.serviceKind(clock)}</label>`,
    )}</fieldset>`;
  };
  const minutes = sent?.fields.minutes ?? (body?.benchMinutes == null ? '' : String(body.benchMinutes));
  const name =
    body === null
      ? field({
          ...{ name: 'name', id: `name-${id}`, label: says.name, hint: says.nameHint, isRequired: true },
          value: sent?.fields.name,
        })
      : html`<input type="hidden" name="name" value="${body.name}">`;
  return html`<form method="post" action="${PATH}">${formToken(viewer)}<input type="hidden" name="fact" value="${fact}"><input type="hidden" name="unitKind" value="${unitKind}">
${name}
${ticks('restarts', others)}
${ticks(
  'restartedBy',
  others.filter((clock) => clock !== 'full'),
)}
${field({ name: 'minutes', id: `minutes-${id}`, label: says.minutes, hint: says.minutesHint, value: minutes, inputmode: 'numeric', isShort: true })}
<p><button>${texts.settings.save}</button></p></form>`;
}
