import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import {
  type AccountsPage,
  addAccount,
  getAccount,
  getAccountsPage,
  removeAccount,
  setPassword,
} from '../../flow/accounts.js';
import { type Account, ROLES } from '../../ports/accounts.js';
import { actButton } from '../cells/actButton.js';
import { writeAsAllowed } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, columnsOf, field, type Markup, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { hashPassword } from '../signIn/password.js';
import { FIRST, passwordTurn } from '../signIn/passwordTurn.js';
import { type After, afterQuery, taken } from '../taken.js';
import { namesAbout, type Viewer, type WebEnv } from '../viewer.js';

const PATH = '/settings/accounts';
const roleSchema = z.enum(ROLES);

/** Who may sign in; for the owner. */
export function accountsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> =>
    markup(c.get('viewer'), await deps.store.read(getAccountsPage), after);
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));

  pages.post(PATH, async (c) => {
    const { password = '', ...fields } = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const role = roleSchema.safeParse(fields.role);
      if (!role.success) throw new NotTaken(c.get('viewer').texts.tray.needChoice);
      const passwordHash = await hashed(c, password, fields.name ?? '');
      const of = { name: fields.name ?? '', passwordHash, role: role.data, fleet: fields.fleet || null };
      await writeAsAllowed(deps, c, (tx) => addAccount(tx, of));
      return `${PATH}?done=added`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });

  pages.post('/settings/accounts/:account/password', async (c) => {
    const { password = '' } = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const account = await deps.store.read((tx) => getAccount(tx, c.req.param('account')));
      const passwordHash = await hashed(c, password, account.name);
      await writeAsAllowed(deps, c, (tx) => setPassword(tx, account, passwordHash));
      return `${PATH}?done=password`;
    };
    return taken(c, {}, work, (after) => show(c, after));
  });

  pages.post('/settings/accounts/:account/remove', async (c) => {
    const viewer = c.get('viewer');
    const work = async (): Promise<string> => {
      await writeAsAllowed(deps, c, async (tx) => {
        const account = await getAccount(tx, c.req.param('account'));
        if (account.id === viewer.account.id) throw new NotTaken(viewer.texts.team.accounts.notYourself);
        await removeAccount(tx, account);
      });
      return `${PATH}?done=removed`;
    };
    return taken(c, {}, work, (after) => show(c, after));
  });
}

async function hashed(c: Context<WebEnv>, password: string, name: string): Promise<string> {
  const viewer = c.get('viewer');
  const hash = await passwordTurn(() => hashPassword(password, namesAbout(viewer, name)), FIRST);
  if (hash === null) throw new NotTaken(viewer.texts.signIn.busy);
  return hash;
}

function markup(viewer: Viewer, { accounts, fleets }: AccountsPage, after: After): Markup {
  const { team, settings } = viewer.texts;
  const { accounts: says } = team;
  const { columns } = says;
  const done = after.done === null ? undefined : says.done[after.done];
  return page(viewer, {
    title: says.title,
    current: 'settings',
    body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(after.fault, done)}
${table(
  columnsOf(
    [columns.name, columns.role, columns.password, columns.remove],
    [],
    [columns.password, columns.remove],
  ),
  accounts.map((account) => ({
    head: html`<b>${account.name}</b>`,
    cells: [
      html`${roleText(viewer, account, fleets.find(({ id }) => id === account.fleetId)?.name ?? null)}`,
      passwordForm(viewer, account),
      account.id === viewer.account.id ? html`${says.you}` : removeForm(viewer, account),
    ],
  })),
)}
<h2>${says.addTitle}</h2>
${addForm(viewer, fleets, after.fields)}
<p class="screen"><a href="/settings">${settings.back}</a></p>`,
  });
}

/** Returns a role in words, with the fleet that it is bound to. */
export function roleText({ texts }: Viewer, { role }: Account, fleet: string | null): string {
  const { accounts } = texts.team;
  return fleet === null ? accounts.role[role] : accounts.of(accounts.role[role], fleet);
}

function passwordForm(viewer: Viewer, { id, name }: Account): Markup {
  const { accounts: says } = viewer.texts.team;
  return html`<form class="row" method="post" action="${PATH}/${id}/password">${formToken(viewer)}
<input name="username" value="${name}" autocomplete="username" hidden>
<input name="password" type="password" class="short" aria-label="${says.passwordOf(name)}" autocomplete="new-password" required>
<button>${says.set}</button></form>`;
}

function removeForm(viewer: Viewer, { id, name }: Account): Markup {
  const { accounts: says } = viewer.texts.team;
  return html`<form method="post" action="${PATH}/${id}/remove">${formToken(viewer)}${actButton({
    id: `remove-${id}`,
    label: says.remove,
    tells: says.removeTells(name),
    look: 'grave',
    spoken: says.removeOf(name),
  })}</form>`;
}

function addForm(viewer: Viewer, fleets: AccountsPage['fleets'], fields: After['fields']): Markup {
  const { accounts: says } = viewer.texts.team;
  return html`
<form method="post" action="${PATH}">${formToken(viewer)}
${field({ name: 'name', label: says.name, value: fields.name, isRequired: true })}
${choice({
  name: 'role',
  label: says.roleLabel,
  value: fields.role ?? 'technician',
  choices: ROLES.map((role) => ({ value: role, label: says.role[role] })),
})}
${when(fleets.length > 0, () =>
  choice({
    name: 'fleet',
    label: says.fleet,
    hint: says.fleetHint,
    value: fields.fleet ?? '',
    choices: [
      { value: '', label: says.noFleet },
      ...fleets.map(({ handle, name }) => ({ value: handle, label: name })),
    ],
  }),
)}
${field({ name: 'password', label: says.password, hint: says.passwordHint, type: 'password', autocomplete: 'new-password', isRequired: true })}
<p><button class="primary">${says.add}</button></p>
</form>`;
}
