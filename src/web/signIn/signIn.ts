import type { Context } from 'hono';
import { html } from 'hono/html';
import { findAccountByName } from '../../flow/accounts.js';
import { endSession, endSessionsOf } from '../../flow/sessions.js';
import type { Account } from '../../ports/accounts.js';
import { writeAsAllowed } from '../change.js';
import type { WebDeps } from '../deps.js';
import { networkOf } from '../door/address.js';
import { fieldsOf, takeSmallForm } from '../guard.js';
import { barePage } from '../layout.js';
import { field, type Markup, said, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Voice, WebEnv } from '../viewer.js';
import { browserOf, markBrowser } from './browserMark.js';
import { type Kept, keptPage } from './kept.js';
import { LONGEST_PASSWORD, nobodysHash, verifyPassword } from './password.js';
import { passwordTurn } from './passwordTurn.js';
import { dropSession, formTokenOf, hashOf, keepSession, openSession } from './session.js';
import { signInLimit } from './signInLimit.js';

const WAIT_S = 900;

type Fault = 'wrong' | 'tooMany' | 'busy';
const STATUS = { wrong: 401, tooMany: 429, busy: 503 } as const;

/** Returns a path of this site to go on to, whatever the field says. */
export function onwardPath(next: string | undefined): string {
  return next !== undefined && /^\/(?![/\\])[\x20-\x7e]*$/.test(next) && !next.includes('\\') ? next : '/';
}

/** The pages that a stranger may see. */
export function signInPages(pages: Pages, { store, clock, log, secret }: WebDeps): void {
  const limit = signInLimit();
  // An unknown name is checked against this, so that it takes as long as a known one.
  const nobody = nobodysHash();

  const isPassword = async (account: Account | undefined, password: string): Promise<boolean> => {
    const isRight = await verifyPassword(password, account?.passwordHash ?? nobody);
    return isRight && account !== undefined;
  };

  const signIn = async (
    c: Context<WebEnv>,
    name: string,
    password: string,
  ): Promise<Fault | { readonly token: string }> => {
    const now = clock.now();
    const account = await store.read((tx) => findAccountByName(tx, name));
    const browser = account ? browserOf(c, secret, account.id) : null;
    const tried = { name, place: c.get('visit').place, browser };
    const rank = limit.take(tried, now);
    if (rank === null) return 'tooMany';
    if (password.length > LONGEST_PASSWORD) return 'wrong';
    const isRight = await passwordTurn(() => isPassword(account, password), rank);
    if (isRight === null) limit.giveBack(tried, now);
    if (isRight === null) return 'busy';
    if (!isRight || !account) return 'wrong';
    limit.forgive(tried);
    const token = await store.write((tx) => openSession(tx, account.id, now));
    keepSession(c, token);
    markBrowser(c, secret, account.id);
    return { token };
  };

  pages.get('/sign-in', (c) => c.html(form(c.get('voice'), onwardPath(c.req.query('next')))));

  pages.post('/sign-in', async (c) => {
    await takeSmallForm(c);
    const fields = await fieldsOf(c);
    const name = (fields.name ?? '').trim().slice(0, 100);
    const next = onwardPath(fields.next);
    const kept = fields.kept ? { to: next, fields: fields.kept } : null;
    const fault = await signIn(c, name, fields.password ?? '');
    if (typeof fault !== 'string') {
      if (kept === null) return c.redirect(next, 303);
      return c.html(keptPage(c.get('voice'), kept, formTokenOf(secret, fault.token)));
    }
    log.info({ fault, from: networkOf(c.get('visit').place) }, 'A sign-in was refused');
    if (fault === 'tooMany') c.header('retry-after', String(WAIT_S));
    return c.html(form(c.get('voice'), next, { name, fault, kept }), STATUS[fault]);
  });
}

/** For those signed in: the ways out. */
export function signOutForms(pages: Pages, deps: WebDeps): void {
  pages.post('/sign-out', async (c) => {
    await writeAsAllowed(deps, c, (tx) => endSession(tx, hashOf(c.get('sessionToken'))));
    dropSession(c);
    return c.redirect('/sign-in', 303);
  });
  pages.post('/sign-out-everywhere', async (c) => {
    await writeAsAllowed(deps, c, (tx) => endSessionsOf(tx, c.get('viewer').account.id));
    dropSession(c);
    return c.redirect('/sign-in', 303);
  });
}

/** The page that signs in for a form that came without a session, and keeps the form meanwhile. */
export const signInFor = (voice: Voice, kept: Kept | null): Markup =>
  form(voice, onwardPath(kept?.to), { name: '', fault: null, kept });

interface TriedForm {
  readonly name: string;
  readonly fault: Fault | null;
  readonly kept: Kept | null;
}

const form = (
  voice: Voice,
  next: string,
  { name, fault, kept }: TriedForm = { name: '', fault: null, kept: null },
): Markup => {
  const { signIn } = voice.texts;
  return barePage(
    voice,
    signIn.title,
    html`<div class="narrow">
<h1>${signIn.title}</h1>
${when(kept !== null, () => said(signIn.kept.waits, 'status'))}
${when(fault !== null, () => said(signIn[fault!], 'alert'))}
<form method="post" action="/sign-in">
<input type="hidden" name="next" value="${next}">
${when(kept !== null, () => html`<input type="hidden" name="kept" value="${kept!.fields}">`)}
${field({ name: 'name', label: signIn.name, value: name, autocomplete: 'username', isRequired: true })}
${field({ name: 'password', label: signIn.password, type: 'password', autocomplete: 'current-password', isRequired: true })}
<p><button class="primary">${signIn.submit}</button></p>
</form>
<p class="soft">${signIn.forgotten}</p>
</div>`,
  );
};
