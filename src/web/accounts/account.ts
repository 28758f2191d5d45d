import type { Context } from 'hono';
import { html } from 'hono/html';
import { setPassword } from '../../flow/accounts.js';
import { writeAsAllowed } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter } from '../markup.js';
import type { Pages } from '../routes.js';
import { hashPassword, LONGEST_PASSWORD, verifyPassword } from '../signIn/password.js';
import { FIRST, passwordTurn } from '../signIn/passwordTurn.js';
import { keepSession, openSession } from '../signIn/session.js';
import { signInLimit } from '../signIn/signInLimit.js';
import { type After, afterQuery, taken } from '../taken.js';
import { namesAbout, type Viewer, type WebEnv } from '../viewer.js';
import { roleText } from './accounts.js';

/** Another password for oneself. Whoever found a session open must know the one of now, and cannot guess at it for long. */
export function accountPage(pages: Pages, deps: WebDeps): void {
  const { clock } = deps;
  const limit = signInLimit();
  const show = (c: Context<WebEnv>, after: After): Promise<Markup> =>
    Promise.resolve(markup(c.get('viewer'), after));
  pages.get('/account', async (c) => c.html(await show(c, afterQuery(c))));

  pages.post('/account', async (c) => {
    const viewer = c.get('viewer');
    const { account, texts } = viewer;
    const { current = '', next = '' } = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const now = clock.now();
      const { place } = c.get('visit');
      if (limit.take({ name: account.name, place, browser: null }, now) === null)
        throw new NotTaken(texts.signIn.tooMany);
      const passwordHash = await passwordTurn(async () => {
        const isRight =
          current.length <= LONGEST_PASSWORD && (await verifyPassword(current, account.passwordHash));
        if (!isRight) throw new NotTaken(texts.team.account.wrong);
        return hashPassword(next, namesAbout(viewer, account.name));
      }, FIRST);
      if (passwordHash === null) throw new NotTaken(texts.signIn.busy);
      const token = await writeAsAllowed(deps, c, async (tx) => {
        await setPassword(tx, account, passwordHash);
        return openSession(tx, account.id, now);
      });
      keepSession(c, token);
      return '/account?done=set';
    };
    return taken(c, {}, work, (after) => show(c, after));
  });
}

function markup(viewer: Viewer, { fault, done }: After): Markup {
  const { account: says } = viewer.texts.team;
  const { account, fleet } = viewer;
  return page(viewer, {
    title: says.title,
    body: html`<div class="narrow">
<h1>${says.title}</h1>
<p class="lead">${says.lead(account.name, roleText(viewer, account, fleet?.name ?? null))}</p>
${saidAfter(fault, done === 'set' ? says.done : undefined)}
<form method="post" action="/account">${formToken(viewer)}
<input name="username" value="${viewer.account.name}" autocomplete="username" hidden>
${field({ name: 'current', label: says.current, type: 'password', autocomplete: 'current-password', isRequired: true })}
${field({ name: 'next', label: says.next, hint: says.nextHint, type: 'password', autocomplete: 'new-password', isRequired: true })}
<p><button class="primary">${says.submit}</button></p>
</form>
<p class="soft">${says.lead2}</p></div>`,
  });
}
