import type { Context } from 'hono';
import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import { httpStatusOf, Refusal, ServiceError } from '../errors.js';
import type { Log } from '../ports/log.js';
import { barePage, page } from './layout.js';
import { type Markup, when } from './markup.js';
import { LONG_AGO } from './show.js';
import { refusedText } from './taken.js';
import type { WebEnv } from './viewer.js';
import { voiceOf } from './viewer.js';

const TOLD = [400, 403, 404, 408, 409, 413, 500, 503] as const;
type SorryStatus = (typeof TOLD)[number];

/** Returns a page that says in plain words what went wrong, and logs what is this program's own fault. */
export function sorryFor(error: unknown, c: Context<WebEnv>, log: Log): Response | Promise<Response> {
  const status = error instanceof HTTPException ? error.status : httpStatusOf(error);
  const told = TOLD.find((one) => one === status) ?? 500;
  if (told >= 500) log.error({ error, path: loggedPath(c.req.path) }, 'A page could not be made');
  return c.html(sorryPage(c, told, error), told);
}

/** The address of the bookings' calendar is its own key, and reaches no log. */
const loggedPath = (path: string): string => (path.startsWith('/bookings/') ? '/bookings/…' : path);

/** What a refusal says is for the person; what broke inside is for the log. */
function sorryPage(c: Context<WebEnv>, status: SorryStatus, error: unknown): Markup {
  const viewer = c.get('viewer');
  const voice = viewer ?? c.get('voice') ?? voiceOf('en');
  const { title, says } = voice.texts.sorry[status];
  const own = error instanceof ServiceError && status < 500 && status !== 404 ? error : null;
  const body = html`
<h1>${title}</h1>
${when(own !== null, () => html`<p lang="${own instanceof Refusal ? voice.words.language : 'en'}"><strong>${refusedText(own!, { ...voice, today: viewer?.today ?? LONG_AGO, zone: viewer?.zone ?? 'UTC' })}</strong></p>`)}
<p>${says}</p>
<p class="screen"><a href="/">${voice.texts.sorry.back}</a></p>`;
  return viewer ? page(viewer, { title, body }) : barePage(voice, title, body);
}
