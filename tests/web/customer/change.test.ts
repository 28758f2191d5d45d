/** What is known of a rider, a bike and a unit is changed on their pages: facts beside what was there, contacts in place. */
import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { webWorld } from '../webWorld.js';

async function opened() {
  const world = await webWorld();
  return { ...world, owner: await signedIn(world.app) };
}

const SIGNS: Readonly<Record<string, string>> = {
  '&quot;': '"',
  '&amp;': '&',
  '&#39;': "'",
  '&lt;': '<',
  '&gt;': '>',
};

/** What a form holds as it stands on the screen, by where it goes. */
async function standing(visitor: Visitor, page: string, action: string): Promise<Record<string, string>> {
  const text = await visitor.text(page);
  const form = text.slice(text.indexOf(`action="${action}"`));
  const body = form.slice(0, form.indexOf('</form>'));
  const plainly = (value: string): string => value.replace(/&(quot|amp|#39|lt|gt);/g, (sign) => SIGNS[sign]!);
  const fields: Record<string, string> = {};
  for (const [, name, value] of body.matchAll(/<input [^>]*name="([^"]+)"[^>]*? value="([^"]*)"/g))
    fields[name!] = plainly(value!);
  for (const [, name, options] of body.matchAll(/<select [^>]*name="([^"]+)"[^>]*>([\s\S]*?)<\/select>/g))
    fields[name!] = /<option value="([^"]*)" selected/.exec(options!)?.[1] ?? '';
  for (const [, name, value] of body.matchAll(/<textarea [^>]*name="([^"]+)"[^>]*>([^<]*)</g))
    fields[name!] = plainly(value!);
  return fields;
}

async function sent(visitor: Visitor, page: string, action: string, other: Record<string, string>) {
  return visitor.post(action, { ...(await standing(visitor, page, action)), ...other });
}

describe('a rider', () => {
  const [page, action] = ['/riders/r1', '/riders/r1/contact'];

  it('has a changed phone number and notes where a call is answered, and keeps a confirmed address', async () => {
    const { owner, store } = await opened();
    const response = await sent(owner, page, action, {
      phone: '+44 20 7946 0018',
      note: 'Rings twice.\r\nPays cash.',
    });
    expect(response.headers.get('location')).toBe('/riders/r1?done=saved');
    const text = await owner.text(page);
    expect(text).toContain('href="tel:+442079460018"');
    expect(plain(text)).toContain('Rings twice. Pays cash.');
    const riderId = (await store.read((tx) => tx.handles.find('rider', 'r1')))!;
    const contact = (await store.read((tx) => tx.contacts.find(riderId)))!;
    expect(contact).toMatchObject({ phone: '+44 20 7946 0018', note: 'Rings twice.\nPays cash.' });
    expect(contact.confirmedAt).not.toBeNull();
    expect((await owner.get('/find?q=79460018')).headers.get('location')).toBe('/riders/r1');
  });

  it('with another address is not confirmed any more; nothing to save is said', async () => {
    const { owner, store } = await opened();
    expect((await sent(owner, page, action, {})).headers.get('location')).toBe('/riders/r1?done=unchanged');
    await sent(owner, page, action, { email: 'new@example.org' });
    const riderId = (await store.read((tx) => tx.handles.find('rider', 'r1')))!;
    expect(await store.read((tx) => tx.contacts.find(riderId))).toMatchObject({
      email: 'new@example.org',
      confirmedAt: null,
    });
    expect(plain(await owner.text(page))).toContain('not confirmed yet');
  });

  it('changed by two at once is saved for the first, and the second keeps what was typed', async () => {
    const { owner } = await opened();
    const seen = await standing(owner, page, action);
    await owner.post(action, { ...seen, phone: '1' });
    const second = await owner.post(action, { ...seen, phone: '2' });
    expect(second.status).toBe(422);
    const text = await second.text();
    expect(plain(text)).toContain('Somebody has changed this.');
    expect(text).toContain('value="2"');
    expect(await owner.text(page)).toContain('href="tel:1"');
  });

  it('gets another bike with its units', async () => {
    const { owner, store } = await opened();
    const fields = {
      bike: 'Gravel bike',
      type: 'gravel',
      fork: 'none',
      shock: 'coil',
      shockModel: 'Sample S',
      history: 'unknown',
    };
    const response = await sent(owner, page, '/riders/r1/bikes', { ...fields, since: '2026-02-01' });
    expect(response.headers.get('location')).toBe('/riders/r1?done=bike');
    const text = plain(await owner.text(page));
    expect(text).toContain('Gravel bike');
    expect(text).toMatch(/C-0001 coil shock, Sample S history unknown/);
    expect((await checkLedger(store)).faults).toEqual([]);
  });

  it('is called about what nobody told yet, until somebody says that they were told by phone', async () => {
    const { owner } = await opened();
    const before = plain(await owner.text(page));
    expect(before).toMatch(/To tell .*F-0001 lower-leg service coming up Told/);
    const form = await standing(owner, page, '/reminders/F-0001/told');
    const response = await owner.post('/reminders/F-0001/told', form);
    expect(response.headers.get('location')).toBe('/riders/r1');
    expect(plain(await owner.text(page))).not.toContain('To tell');
    // Whatever a form names, it leads nowhere else.
    const away = await owner.post('/reminders/F-0001/told', { ...form, next: '//evil.example' });
    expect(away.headers.get('location') ?? '/').not.toContain('evil');
  });
});

describe('a bike', () => {
  const [page, action] = ['/bikes/b1', '/bikes/b1/change'];

  it('is called otherwise, and becomes another rider’s with all its hours', async () => {
    const { owner, store } = await opened();
    const response = await sent(owner, page, action, { name: 'Blue bike', type: 'gravity', owner: 'otto' });
    expect(response.headers.get('location')).toBe('/bikes/b1?done=saved');
    const id = (await store.read((tx) => tx.handles.find('bike', 'b1')))!;
    const r2 = (await store.read((tx) => tx.handles.find('rider', 'r2')))!;
    const versions = await store.read((tx) => tx.facts.versions('bike', id));
    expect(versions).toHaveLength(2);
    expect(versions[1]!.body).toMatchObject({ name: 'Blue bike', type: 'gravity', riderId: r2 });
    expect(plain(await owner.text('/riders/r2'))).toContain('Blue bike');
    expect((await checkLedger(store)).faults).toEqual([]);
    await sent(owner, page, action, { owner: '' });
    expect((await store.read((tx) => tx.facts.current('bike', id)))!.body.riderId).toBeNull();
  });

  it('goes to nobody where several riders or none fit, and to nobody twice at once', async () => {
    const { owner, store } = await opened();
    const count = () => store.read((tx) => tx.facts.count());
    const before = await count();
    for (const other of ['zebra', 'example.org']) {
      const response = await sent(owner, page, action, { owner: other });
      expect(response.status).toBe(422);
      expect(await response.text()).toContain(`value="${other}"`);
    }
    expect(await count()).toBe(before);
    const seen = await standing(owner, page, action);
    expect((await owner.post(action, { ...seen, name: 'One' })).status).toBe(303);
    expect((await owner.post(action, { ...seen, name: 'Two' })).status).toBe(409);
  });

  it('takes a new unit in a free place alone', async () => {
    const { owner } = await opened();
    const shock = {
      kind: 'air-shock',
      model: 'Sample A',
      serial: 'Q-77',
      since: '2026-05-01',
      history: 'new',
    };
    const response = await sent(owner, page, '/bikes/b1/unit', shock);
    expect(response.headers.get('location')).toBe('/units/A-0002?done=added');
    expect((await owner.get('/find?q=q77')).headers.get('location')).toBe('/units/A-0002');
    const second = await sent(owner, page, '/bikes/b1/unit', { ...shock, kind: 'coil-shock' });
    expect(second.status).toBe(409);
    expect(await second.text()).toContain('value="Sample A"');
  });
});

describe('a unit', () => {
  const [page, action] = ['/units/F-0001', '/units/F-0001/change'];

  it('is known better: serial number, year, travel, warranty, weight of its hours, what it had run', async () => {
    const { owner, store } = await opened();
    const known = {
      serial: 'ZX-9',
      modelYear: '2024',
      travelMm: '150',
      warrantyEnd: '2027-01-01',
      factor: '1,2',
    };
    const past = { history: 'hours', terrainHours: '12.5', movingHours: '14', asOf: '2026-01-01' };
    const response = await sent(owner, page, action, { ...known, ...past, spring: 'coil' });
    expect(response.headers.get('location')).toBe('/units/F-0001?done=changed');
    const id = (await store.read((tx) => tx.handles.find('unit', 'F-0001')))!;
    expect((await store.read((tx) => tx.facts.current('unit', id)))!.body).toMatchObject({
      ...{
        serial: 'ZX-9',
        modelYear: 2024,
        travelMm: 150,
        warrantyEnd: '2027-01-01',
        factor: 1.2,
        spring: 'coil',
      },
      history: { terrainHours: 12.5, movingHours: 14, asOf: '2026-01-01' },
    });
    expect((await checkLedger(store)).faults).toEqual([]);
    // What stands on the screen is what is saved: sent as it is, nothing is other.
    expect((await sent(owner, page, action, {})).headers.get('location')).toBe(
      '/units/F-0001?done=unchanged',
    );
    await sent(owner, page, action, { modelYear: '', spring: 'air' });
    const body = (await store.read((tx) => tx.facts.current('unit', id)))!.body;
    expect(body).not.toHaveProperty('modelYear');
    expect(body).not.toHaveProperty('spring');
  });

  it.each([
    ['factor', '9'],
    ['travelMm', 'long'],
    ['modelYear', '12'],
    ['warrantyEnd', '2026-02-30'],
    ['model', 'x'.repeat(101)],
  ])('keeps what was typed where %s is %j', async (name, value) => {
    const { owner, store } = await opened();
    const before = await store.read((tx) => tx.facts.count());
    const response = await sent(owner, page, action, { [name]: value, serial: 'kept as typed' });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain('value="kept as typed"');
    expect(await store.read((tx) => tx.facts.count())).toBe(before);
  });
});
