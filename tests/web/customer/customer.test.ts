/** A new customer comes whole or not at all, once, and is asked for nothing twice. */
import { describe, expect, it } from 'vitest';
import { RiderWorld } from '../../flow/riderWorld.js';
import { plain, signedIn } from '../visitor.js';
import { cheapHash, NAME, PASSWORD, TODAY, webWorld } from '../webWorld.js';

const ANA = {
  ...{ name: 'Ana Ferrão-Costa', phone: '+351 912 345 678', email: 'ana@example.org', language: 'pt' },
  ...{ bike: 'Red enduro', type: 'gravity', fork: 'coil', forkModel: 'Sample fork Z', shock: 'air' },
  ...{ shockModel: '', since: '2026-03-01', history: 'new' },
};

async function opened() {
  const world = await webWorld();
  const owner = await signedIn(world.app);
  const page = await owner.text('/customers/new');
  const form = /name="form" value="(\w+)"/.exec(page)![1]!;
  return { ...world, owner, page, form };
}

describe('the form for a new customer', () => {
  it('has at most twelve fields, on one page', async () => {
    const { page } = await opened();
    const main = page.slice(page.indexOf('<main'), page.indexOf('</main>'));
    const fields = main.match(/<(input|select|textarea)\b(?![^>]*type="hidden")/g) ?? [];
    expect(fields.length).toBeGreaterThan(8);
    expect(fields.length).toBeLessThanOrEqual(12);
  });

  it('makes rider, bike, units and fittings, each with the next name, and shows them', async () => {
    const { owner, store, form } = await opened();
    const response = await owner.send('/customers/new', '/customers/new', { form, ...ANA });
    expect(response.headers.get('location')).toBe('/riders/r3?done=new');
    const page = plain(await owner.text('/riders/r3?done=new'));
    for (const text of [ANA.name, ANA.phone, ANA.email, ANA.bike]) expect(page).toContain(text);
    const made = await store.read(async (tx) => {
      const [bike] = await tx.facts.list('bike', { object: form });
      const fittings = await tx.facts.list('fitting', { object: bike!.entityId });
      const units = await Promise.all(
        fittings.map(async ({ body }) => (await tx.facts.current('unit', body.unitId))!.body),
      );
      return { bike: bike!.body, since: fittings.map(({ body }) => body.from), units };
    });
    expect(made.bike).toMatchObject({ handle: 'b4', name: 'Red enduro', type: 'gravity', riderId: form });
    expect(made.since).toEqual(['2026-03-01', '2026-03-01']);
    expect(made.units).toMatchObject([
      { tag: 'F-0004', unitKind: 'fork', spring: 'coil', model: 'Sample fork Z', history: 'new' },
      { tag: 'A-0002', unitKind: 'air-shock', model: null, history: 'new' },
    ]);
    expect(made.units[1]).not.toHaveProperty('spring');
    const due = plain(await owner.text('/due'));
    expect(due).toContain('F-0004');
    const labels = plain(await owner.text('/riders/r3/labels'));
    for (const text of ['F-0004', 'A-0002', ANA.name, ANA.bike]) expect(labels).toContain(text);
  });

  it('sent twice makes one rider', async () => {
    const { owner, store, form } = await opened();
    const count = () => store.read((tx) => tx.facts.count());
    const first = await owner.send('/customers/new', '/customers/new', { form, ...ANA });
    const after = await count();
    const second = await owner.send('/customers/new', '/customers/new', { form, ...ANA, name: 'Ana' });
    expect(second.headers.get('location')).toBe(first.headers.get('location'));
    expect(await count()).toBe(after);
  });

  it('says what is wrong beside its field, with the focus there, keeps what was typed, and saves nothing', async () => {
    const { owner, store, form } = await opened();
    const before = await store.read((tx) => tx.facts.count());
    const wrong: Record<string, string>[] = [
      { name: ' ' },
      { email: 'ana(at)example' },
      { bike: '' },
      { since: '2026-06-11' },
      { forkModel: 'x'.repeat(101) },
    ];
    for (const one of wrong) {
      const [name = ''] = Object.keys(one);
      const response = await owner.send('/customers/new', '/customers/new', { form, ...ANA, ...one });
      const page = await response.text();
      expect([name, response.status]).toEqual([name, 422]);
      expect(page, name).toMatch(new RegExp(`<input id="${name}"[^>]* autofocus[^>]* aria-invalid="true"`));
      expect(page.match(/ autofocus/g)).toHaveLength(1);
      expect(page).toContain(`id="${name}-wrong"`);
      expect(page).toContain(`value="${form}"`);
      if (name !== 'name') expect(page).toContain('value="Ana Ferrão-Costa"');
    }
    expect(await store.read((tx) => tx.facts.count())).toBe(before);
    expect(await store.read((tx) => tx.contacts.count())).toBe(2);
  });

  it('takes whatever people write as text, and an empty day as today', async () => {
    const { owner, store, form } = await opened();
    const odd = { ...ANA, name: '<b>Ana</b> & "Co"', fork: 'none', since: '', phone: '', email: '' };
    const response = await owner.send('/customers/new', '/customers/new', { form, ...odd });
    const page = await owner.text(response.headers.get('location')!);
    expect(page).not.toContain('<b>Ana');
    expect(plain(page)).toContain('<b>Ana</b> & "Co"');
    const [bike] = await store.read((tx) => tx.facts.list('bike', { object: form }));
    const fittings = await store.read((tx) => tx.facts.list('fitting', { object: bike!.entityId }));
    expect(fittings.map(({ body }) => body.from)).toEqual([TODAY]);
  });
});

it('the number of a forgotten rider is never given again', async () => {
  const { owner, store, form } = await opened();
  await owner.send('/customers/new', '/customers/new', { form, ...ANA });
  await store.write((tx) => tx.handles.forget('rider', form, `forgotten-${form}`));
  const page = await owner.text('/customers/new');
  const next = /name="form" value="(\w+)"/.exec(page)![1]!;
  const response = await owner.send('/customers/new', '/customers/new', { ...ANA, form: next });
  expect(response.headers.get('location')).toBe('/riders/r4?done=new');
});

it('the address is asked for confirmation before anything else goes to it', async () => {
  const world = await RiderWorld.open();
  const account = { name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' } as const;
  await world.deps.store.write((tx) => tx.accounts.add(account));
  const owner = await signedIn(world.app, 'https://bench.example.org');
  const page = await owner.text('/customers/new');
  expect(plain(page)).toContain('A mail asks whether this address is theirs.');
  const form = /name="form" value="(\w+)"/.exec(page)![1]!;
  const response = await owner.send('/customers/new', '/customers/new', { form, ...ANA });
  expect(response.headers.get('location')).toMatch(/done=newAsked$/);
  await world.beat();
  const mails = world.sent.filter(({ to }) => JSON.stringify(to).includes(ANA.email));
  expect(mails).toHaveLength(1);
  expect(mails[0]!.headers['Content-Language']).toBe('pt');
  expect(mails[0]!.text).not.toContain('F-000');
  const contact = await world.deps.store.read((tx) => tx.contacts.find(form));
  expect(contact).toMatchObject({ email: ANA.email, confirmedAt: null });
});
