/** A form that comes after the session ended, or from a page of an earlier one: nothing that was typed is lost. */
import type { Context } from 'hono';
import { html } from 'hono/html';
import { barePage } from '../layout.js';
import { type Markup, when } from '../markup.js';
import type { Voice, WebEnv } from '../viewer.js';

/** Longer than any form of a person's typing; what is longer is not kept. */
const MOST_KEPT = 20_000;
/** What is typed to be known to nobody, and what only the session of before could show. */
const NEVER_KEPT = /password|^token$/i;

export interface Kept {
  /** Where the form goes. */
  readonly to: string;
  /** Its fields as a form's body, but for what is secret. */
  readonly fields: string;
}

/** Returns the form that was sent and taken in; null where there is nothing to keep. */
export async function keep(c: Context<WebEnv>): Promise<Kept | null> {
  const { pathname, search } = new URL(c.req.url);
  if (pathname.startsWith('/sign-out')) return null;
  const typed: [string, string][] = Object.entries(await c.req.parseBody({ all: true })).flatMap(
    ([name, values]) =>
      [values]
        .flat()
        .flatMap((value) => (typeof value === 'string' ? [[name, value] as [string, string]] : [])),
  );
  const fields = new URLSearchParams(typed.filter(([name]) => !NEVER_KEPT.test(name))).toString();
  return fields === '' || fields.length > MOST_KEPT ? null : { to: pathname + search, fields };
}

/** Says that the form waits, and has it sent by a press of the person who is signed in now. */
export function keptPage(voice: Voice, { to, fields }: Kept, formToken: string): Markup {
  const { kept } = voice.texts.signIn;
  const typed = [...new URLSearchParams(fields)].filter(([name]) => !NEVER_KEPT.test(name));
  const shown = typed.map(([, value]) => value).filter((value) => value !== '');
  return barePage(
    voice,
    kept.title,
    html`<div class="narrow"><h1>${kept.title}</h1>
<p>${kept.lead}</p>
${when(shown.length > 0, () => html`<ul>${shown.map((value) => html`<li class="long">${value}</li>`)}</ul>`)}
<form method="post" action="${to}"><input type="hidden" name="token" value="${formToken}">
${typed.map(([name, value]) => html`<input type="hidden" name="${name}" value="${value}">`)}
<p><button class="primary" autofocus>${kept.send}</button></p></form>
<p><a href="/">${kept.leave}</a></p></div>`,
  );
}
