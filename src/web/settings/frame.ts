import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Fact } from '../../core/ledger/facts.js';
import { setWorkshop, type WorkshopWords } from '../../flow/facts/setWorkshop.js';
import { findWorkshop } from '../../flow/settings.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { type Markup, saidAfter } from '../markup.js';
import type { Pages, RouteKey } from '../routes.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

type SettingPath = RouteKey extends infer K
  ? K extends `POST ${infer P extends `/settings/${string}`}`
    ? P
    : never
  : never;

/** What was sent: fields, and all values of those that come more than once. */
export interface SentSetting {
  readonly fields: Fields;
  readonly valuesOf: (name: string) => readonly string[];
}

/** A small page about some of what the workshop says of itself. */
export interface Setting {
  readonly path: Exclude<SettingPath, `${string}:${string}`>;
  /** Names of boxes and choices that may be sent more than once. */
  readonly many?: readonly string[];
  /** Returns what is said in place of what stands there. Errors: NotTaken, naming the field. */
  readonly read: (sent: SentSetting, fact: Fact<'workshop'>, viewer: Viewer) => WorkshopWords;
  readonly show: (
    c: Context<WebEnv>,
    fact: Fact<'workshop'>,
    after: SettingAfter,
  ) => Promise<Markup> | Markup;
}

export interface SettingAfter extends After, SentSetting {}

/**
 * What is sent takes the place of what the person saw, and stands on the page that follows. A form that does not say
 * which fact was seen adds to what stands there, or takes from it.
 */
export function settingPage(pages: Pages, deps: WebDeps, { path, many = [], read, show }: Setting): void {
  const shown = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const fact = (await deps.store.read(findWorkshop))!;
    return show(c, fact, { ...after, ...(await sentIn(c, many)), fields: after.fields });
  };
  pages.get(path, async (c) => c.html(await shown(c, afterQuery(c))));
  pages.post(path, async (c) => {
    const sent = await sentIn(c, many);
    const work = async (): Promise<string> => {
      const id = await change(deps, c, async (tx, entry) => {
        const now = (await findWorkshop(tx))!;
        const words = read(sent, now, c.get('viewer'));
        return setWorkshop(tx, sent.fields.fact ?? now.id, words, entry);
      });
      return `${path}?done=${id === null ? 'unchanged' : 'saved'}`;
    };
    return taken(c, sent.fields, work, (after) => shown(c, after));
  });
}

async function sentIn(c: Context<WebEnv>, many: readonly string[]): Promise<SentSetting> {
  if (c.req.method !== 'POST') return { fields: {}, valuesOf: () => [] };
  const values = new Map<string, readonly string[]>();
  for (const name of many) values.set(name, await valuesOf(c, name));
  return { fields: await fieldsOf(c), valuesOf: (name) => values.get(name) ?? [] };
}

/** Returns a page of the settings, with the way back to all of them. */
export function settingFrame(
  viewer: Viewer,
  {
    title,
    lead,
    after,
    body,
  }: { readonly title: string; readonly lead: string; readonly after: After; readonly body: Markup },
): Markup {
  const { settings } = viewer.texts;
  const done =
    after.done === 'unchanged' ? settings.unchanged : after.done === 'saved' ? settings.saved : undefined;
  return page(viewer, {
    title,
    current: 'settings',
    body: html`
<h1>${title}</h1>
<p class="lead">${lead}</p>
${saidAfter(after.fault, done)}
${body}
<p class="screen"><a href="/settings">${settings.back}</a></p>`,
  });
}

/** What a person saw, not what stands there by now: so two who change the same at once collide visibly. */
export const seenFact = (viewer: Viewer, fact: Fact<'workshop'>, { fields }: Pick<After, 'fields'>): Markup =>
  html`${formToken(viewer)}<input type="hidden" name="fact" value="${fields.fact ?? fact.id}">`;

/** Returns what is wrong with a field, where the fault is about it. */
export const wrongAt = (
  { fault, at }: After,
  name: string,
): { readonly wrong?: string; readonly isFocused?: boolean } =>
  fault !== null && at === name ? { wrong: fault, isFocused: true } : {};
