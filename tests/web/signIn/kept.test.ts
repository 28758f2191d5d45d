/** A form that was typed in a session that has ended is lost to nobody, and is sent by nobody but the person. */
import { describe, expect, it } from 'vitest';
import { DAY_MS, instant } from '../../../src/units.js';
import { plain, signedIn, Visitor } from '../visitor.js';
import { NAME, NOW, PASSWORD, webWorld } from '../webWorld.js';

const HOURS = { on: '2026-06-09', minutes: '90', ground: 'rough', note: 'typed "long" <ago>' };
const PATH = '/bikes/b2/hours';

/** The fields of the form that a page holds, as a browser sends them. */
function fieldsIn(page: string): Record<string, string> {
  const inputs = page.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g);
  const signs = { '&quot;': '"', '&lt;': '<', '&gt;': '>', '&amp;': '&', '&#39;': "'" };
  const plainly = (text: string) => text.replace(/&(?:quot|lt|gt|amp|#39);/g, (one) => signs[one as '&lt;']);
  return Object.fromEntries([...inputs].map(([, name, value]) => [name!, plainly(value!)]));
}

describe('a form sent after the session ended', () => {
  it('offers to sign in, keeps what was typed, and is saved by one press', async () => {
    const world = await webWorld();
    const visitor = await signedIn(world.app);
    const token = await visitor.tokenOn('/bikes/b2');
    world.setNow(instant(NOW + 40 * DAY_MS));
    const before = await world.store.read((tx) => tx.facts.count());
    const asked = await visitor.post(PATH, { token, ...HOURS });
    expect(asked.status).toBe(403);
    const page = await asked.text();
    expect(plain(page)).toContain('You were signed out.');
    expect(page).not.toContain(token);
    const kept = fieldsIn(page);
    const wrong = await visitor.post('/sign-in', { ...kept, name: NAME, password: 'wrong' });
    expect(wrong.status).toBe(401);
    const again = fieldsIn(await wrong.text());
    expect(again).toEqual(kept);
    const signed = await visitor.post('/sign-in', { ...again, name: NAME, password: PASSWORD });
    expect(signed.status).toBe(200);
    const waits = await signed.text();
    expect(plain(waits)).toContain(HOURS.note);
    expect(waits).toContain(`action="${PATH}"`);
    expect(await world.store.read((tx) => tx.facts.count())).toBe(before);
    const sent = await visitor.post(PATH, fieldsIn(waits));
    expect(sent.headers.get('location')).toBe('/bikes/b2?done=added');
    const [hours] = (await world.store.read((tx) => tx.facts.list('hours'))).slice(-1);
    expect(hours!.body).toMatchObject({ minutes: 90, ground: 'rough', note: HOURS.note });
  });

  it('from a page of an earlier session is sent by a press in the one of now, ticks and all', async () => {
    const world = await webWorld();
    const old = await signedIn(world.app);
    const token = await old.tokenOn('/settings/workshop');
    const now = await signedIn(world.app);
    const asked = await now.post('/settings/workshop', { token, name: 'X', openDays: ['mon', 'tue'] });
    expect(asked.status).toBe(403);
    const page = await asked.text();
    expect(page.match(/name="openDays" value="(mon|tue)"/g)).toHaveLength(2);
    expect(fieldsIn(page).token).toBe(await now.tokenOn('/'));
  });

  it('keeps no password, leads to no other host, and keeps nothing that is empty or very long', async () => {
    const world = await webWorld();
    const stranger = new Visitor(world.app);
    const secret = await stranger.post('/account', {
      before: 'a',
      password: 'secret one',
      newPassword: 'secret two',
    });
    expect(await secret.text()).not.toContain('secret');
    for (const fields of [{}, { note: 'x'.repeat(30_000) }]) {
      const page = await (await stranger.post(PATH, fields)).text();
      expect(fieldsIn(page).kept).toBeUndefined();
    }
    const away = { next: '//evil.example/x', kept: 'a=1', name: NAME, password: PASSWORD };
    expect(await (await stranger.post('/sign-in', away)).text()).toContain('action="/"');
    const odd = { next: PATH, kept: 'token=stolen&note=<script>', name: NAME, password: PASSWORD };
    const page = await (await new Visitor(world.app).post('/sign-in', odd)).text();
    expect(page).not.toContain('stolen');
    expect(page).not.toContain('<script>');
  });
});
