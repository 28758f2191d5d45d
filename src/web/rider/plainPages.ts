/** Pages for whoever holds no good link: they speak the browser's language, else the workshop's, and name nobody. */
import type { Context } from 'hono';
import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import { findWorkshop } from '../../flow/settings.js';
import { acceptedLanguage, riderTextsFor } from '../../languages/index.js';
import type { WebDeps } from '../deps.js';
import { barePage } from '../layout.js';
import type { Markup } from '../markup.js';
import type { WebEnv } from '../viewer.js';
import { voiceOf } from '../viewer.js';

export async function plainPage(
  c: Context<WebEnv>,
  { store }: WebDeps,
  what: 'gone' | 'tooMuch',
): Promise<Markup> {
  return plainMarkup(c, what, (await store.read(findWorkshop))?.body);
}

function plainMarkup(
  c: Context<WebEnv>,
  what: 'gone' | 'tooMuch' | 'broken',
  workshop?: { readonly name: string; readonly language: string },
): Markup {
  const tag = acceptedLanguage(c.req.header('accept-language')) ?? workshop?.language ?? 'en';
  const { title, says } = riderTextsFor(tag)[what];
  return barePage(voiceOf(tag), title, html`<h1>${title}</h1><p>${says}</p>`, workshop?.name ?? 'Stanchion');
}

export async function brokenPage(c: Context<WebEnv>, error: unknown, deps: WebDeps): Promise<Response> {
  const status = error instanceof HTTPException ? error.status : 500;
  if (status === 404) return c.html(await plainPage(c, deps, 'gone'), 404);
  if (status < 500) return c.html(plainMarkup(c, 'broken'), 400);
  const [, , purpose] = c.req.path.split('/');
  deps.log.error({ error, page: `/r/${purpose ?? ''}/…` }, 'A page behind a link could not be made');
  // The store may be what is broken.
  return c.html(plainMarkup(c, 'broken'), 500);
}
