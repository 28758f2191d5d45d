/** Text that is meant to be taken for something else: a statement, a formula, a header, a password known to all. */
import SQLite from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { crawl } from '../fixtures/pageForms.js';
import { signedIn } from '../web/visitor.js';
import { webWorld } from '../web/webWorld.js';

const STATEMENTS = [
  "x'; drop table fact; --",
  "' or '1'='1",
  '" or ""="',
  "x') union select password_hash from account --",
  '%',
  '_',
  '\\',
];

describe('a statement', () => {
  it('typed into any field or address is a text like any other', async () => {
    const { app, store } = await webWorld();
    const visitor = await signedIn(app);
    const { pages, forms } = await crawl((path) => visitor.text(path), ['/']);
    const token = await visitor.tokenOn('/');
    const facts = await store.read((tx) => tx.facts.count());
    const hash = (await store.read((tx) => tx.accounts.findByName('owner')))!.passwordHash;
    let sent = 0;
    // A form may ask what it is about first, so each is tried with what it offers, and with a statement everywhere.
    for (const isOfferTaken of [true, false])
      for (const { action, fields } of forms.filter(({ action: to }) => !to.startsWith('/sign-out'))) {
        const statement = STATEMENTS[sent % STATEMENTS.length]!;
        const valueFor = (name: string, offered: readonly string[]): string => {
          if (name === 'token') return token;
          return isOfferTaken && offered.length > 0 ? offered[0]! : statement;
        };
        const values = fields.map(([name, offered]) => [name, valueFor(name, offered)]);
        const response = await visitor.post(action, Object.fromEntries(values));
        expect([action, response.status < 500]).toEqual([action, true]);
        expect(await response.text()).not.toContain(hash);
        sent += 1;
      }
    expect(sent).toBeGreaterThan(30);
    for (const path of pages.keys()) {
      const at = path.replace(/[^/]*$/, encodeURIComponent(STATEMENTS[3]!));
      expect(await visitor.text(at)).not.toContain(hash);
    }
    expect(await store.read((tx) => tx.facts.count())).toBeGreaterThanOrEqual(facts);
  }, 120_000);

  it('as a name to sign in with lets nobody in', async () => {
    const { app } = await webWorld();
    for (const statement of STATEMENTS) {
      const response = await app.request('http://localhost/sign-in', {
        method: 'POST',
        headers: { origin: 'http://localhost' },
        body: new URLSearchParams({ name: statement, password: statement }),
      });
      expect([statement, response.status === 303]).toEqual([statement, false]);
    }
  });

  it('given as a why is kept word for word', async () => {
    const { app, path } = await webWorld();
    const visitor = await signedIn(app);
    const why = STATEMENTS[0]!;
    expect((await visitor.send('/units/F-0001', '/units/F-0001/mark', { why })).status).toBe(303);
    const database = new SQLite(path, { readonly: true });
    const kept = database
      .prepare("select body || coalesce(why, '') from fact where kind = 'mark'")
      .pluck()
      .all() as string[];
    database.close();
    expect(kept).toHaveLength(1);
    expect(kept[0]).toContain(why);
  });
});
