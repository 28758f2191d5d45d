/** Stored and reflected script: whatever anybody typed or named, on every page it is shown as text. */
import { describe, expect, it } from 'vitest';
import { crawl } from '../fixtures/pageForms.js';
import { getsThrough, hostileWorld, payload, shownIn } from './hostileWorld.js';

describe('script', () => {
  it('stored in any field or file name is shown as text on every page', async () => {
    const { visitor, links } = await hostileWorld();
    const { pages } = await crawl((path) => visitor.text(path), ['/', ...links]);
    const shown = new Set<string>();
    for (const [path, text] of pages) {
      expect(getsThrough(text), path).toBeUndefined();
      for (const name of shownIn(text)) shown.add(name);
    }
    expect(pages.size).toBeGreaterThan(25);
    // Fields that no page shows would prove nothing.
    expect([...shown].sort()).toEqual(
      expect.arrayContaining([
        'bike',
        'bikeId',
        'fileName',
        'finding',
        'hoursNote',
        'model',
        'part',
        'race',
        'rider',
        'serial',
        'serviceKind',
        'serviceNote',
        'tag',
        'workshop',
      ]),
    );
  }, 120_000);

  it('reflected by any address or its query is shown as text', async () => {
    const { visitor, links, app } = await hostileWorld();
    const { pages } = await crawl((path) => visitor.text(path), ['/', ...links]);
    const hostile = encodeURIComponent(payload('reflected'));
    const gets = app.routes.filter(({ method, path }) => method === 'GET' && path.includes(':'));
    const addresses = [
      ...[...pages.keys()].flatMap((path) =>
        [
          'done',
          'next',
          'q',
          'on',
          'from',
          'to',
          'bike',
          'unit',
          'kind',
          'state',
          'saved',
          'by',
          hostile,
        ].map((name) => `${path}${path.includes('?') ? '&' : '?'}${name}=${hostile}`),
      ),
      ...gets.map(({ path }) => path.replace(/:\w+/g, hostile)),
      ...[...pages.keys()].map((path) => path.replace(/[^/?]*(\?.*)?$/, hostile)),
      `/no-such-page/${hostile}`,
    ];
    expect(addresses.length).toBeGreaterThan(300);
    for (const path of addresses) expect(getsThrough(await visitor.text(path)), path).toBeUndefined();
  }, 180_000);

  it('typed into any field of any form, taken or not, is shown as text', async () => {
    const { visitor, links } = await hostileWorld();
    const { forms } = await crawl((path) => visitor.text(path), ['/', ...links]);
    const token = await visitor.tokenOn('/');
    let sent = 0;
    for (const { action, fields } of forms.filter(
      (form) => form.action !== '/sign-out-everywhere' && form.action !== '/sign-out',
    )) {
      for (const [hostileField] of fields.filter(([name]) => name !== 'token')) {
        const values = fields.map(([name, offered]): [string, string] =>
          name === 'token'
            ? [name, token]
            : [name, name === hostileField ? payload('typed') : (offered[0] ?? '1')],
        );
        const response = await visitor.post(action, Object.fromEntries(values));
        expect(response.status, `${action} ${hostileField}`).toBeLessThan(500);
        expect(getsThrough(await response.text()), `${action} ${hostileField}`).toBeUndefined();
        sent += 1;
      }
    }
    expect(sent).toBeGreaterThan(40);
    for (const [path, text] of (await crawl((at) => visitor.text(at), ['/'])).pages)
      expect(getsThrough(text), path).toBeUndefined();
  }, 240_000);

  it('as the name somebody tries to sign in with is shown as text', async () => {
    const { visitor, app } = await hostileWorld();
    const response = await visitor.signIn('x', payload('name'));
    expect(response.status).toBe(401);
    const text = await response.text();
    expect(shownIn(text)).toEqual(['name']);
    expect(getsThrough(text)).toBeUndefined();
    const asked = await app.request(
      `http://localhost/sign-in?next=${encodeURIComponent(`/${payload('next')}`)}`,
    );
    expect(getsThrough(await asked.text())).toBeUndefined();
  });
});
