/** What was found at a service: the mail, the page that it leads to, and who may see its photographs. */
import { describe, expect, it } from 'vitest';
import type { ServiceFact } from '../../../../src/core/ledger/facts.js';
import { correctFact } from '../../../../src/flow/facts/correctFact.js';
import { addService } from '../../../../src/flow/facts/enterFacts.js';
import { arrive, changeJob, findStay } from '../../../../src/flow/facts/jobs.js';
import { deliverOutbox } from '../../../../src/flow/mail/deliverOutbox.js';
import { queueFound } from '../../../../src/flow/mail/kinds/found.js';
import { addSetUp } from '../../../../src/flow/plan/setUps.js';
import { day } from '../../../../src/units.js';
import { addRings } from '../../../fixtures/photos.js';
import { linksOf, RiderWorld } from '../../../flow/riderWorld.js';
import { plain } from '../../visitor.js';

const FINDINGS = {
  crown: 'creaks',
  stanchions: 'scratched',
  foamRings: 'dark',
  oil: 'brown',
  setUpPressure: '82 psi',
};

async function serviced(of: Partial<ServiceFact> = {}) {
  const world = await RiderWorld.open();
  const unitId = await world.flow.id('unit', 'F-1');
  const entry = () => ({ by: 'tech', at: world.deps.clock.now() });
  const ids = await world.store.write(async (tx) => {
    await arrive(tx, unitId, { price: '80 €' }, entry());
    const photo = await addRings(tx, world.photos, 'F-1', entry().at);
    const body = {
      unitId,
      serviceKind: 'lower-leg',
      on: day('2026-06-10'),
      by: 'here',
      findings: FINDINGS,
      note: 'for us alone',
    } as const;
    const factId = await addService(tx, { ...body, ...of }, entry());
    await changeJob(tx, unitId, (await findStay(tx, unitId))!.factId, { step: 'informed' }, entry());
    return { factId, photo, serviceId: (await tx.facts.find(factId))!.entityId };
  });
  const queue = () => world.store.write((tx) => queueFound(tx, unitId, entry().at, world.deps.ids));
  const deliver = async () => {
    await deliverOutbox(world.deps, undefined, 'others');
    return world.sent.filter(({ subject }) => subject.includes('what was found'));
  };
  return { world, unitId, entry, queue, deliver, ...ids };
}

describe('the mail', () => {
  it('tells first what matters and what to do, then what was seen and done, the hours and what was promised', async () => {
    const { queue, deliver } = await serviced();
    expect(await queue()).toBe(true);
    const [mail] = await deliver();
    const at = (text: string): number => {
      expect(mail!.text).toContain(text);
      return mail!.text.indexOf(text);
    };
    const order = [
      'Do not ride it',
      'Crown and steerer: creaks',
      'Have this checked soon',
      'Stanchions: scratched',
      'can be collected',
      'Done: lower-leg service',
      'Foam rings: dark',
      'Price: 80 €',
    ];
    const places = order.map(at);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(mail!.text).not.toContain('for us alone');
    expect(mail!.headers['List-Unsubscribe']).toContain('/r/stop-found/');
    expect(mail!.attachments ?? []).toEqual([]);
  });

  it('goes once for a service: a correction changes the page and sends nothing', async () => {
    const { world, queue, deliver, factId, entry } = await serviced();
    await queue();
    expect(await deliver()).toHaveLength(1);
    await world.store.write((tx) =>
      correctFact(
        tx,
        factId,
        {
          kind: 'service',
          row: {
            unit: 'F-1',
            serviceKind: 'lower-leg',
            on: day('2026-06-10'),
            restarts: ['lower-leg'],
            by: 'here',
            findings: { foamRings: 'honey' },
            note: null,
          },
        },
        { ...entry(), why: 'honey, not dark' },
      ),
    );
    expect(await queue()).toBe(true);
    const sent = await deliver();
    expect(sent).toHaveLength(1);
    const page = /https:\/\/\S+\/found\/\S+/.exec(sent[0]!.text)![0];
    const text = plain(await world.text(page));
    expect(text).toContain('Foam rings: honey');
    expect(text).not.toMatch(/dark|creaks/);
  });

  it('names no price unless somebody typed one, and ends by its own stop alone', async () => {
    const { world, queue, deliver, unitId } = await serviced({ findings: null });
    await world.store.write(async (tx) =>
      changeJob(
        tx,
        unitId,
        (await findStay(tx, unitId))!.factId,
        { price: null },
        { by: 'tech', at: world.deps.clock.now() },
      ),
    );
    await queue();
    const [mail] = await deliver();
    expect(mail!.text).not.toMatch(/price|€/i);
    const stop = /https:\/\/\S+\/r\/stop-found\/\S+/.exec(mail!.text)![0];
    await world.get(stop);
    expect(await queue()).toBe(true);
    await world.post(stop, { action: 'stop' });
    expect(await queue()).toBe(false);
    const riderId = await world.flow.id('rider', 'r1');
    expect((await world.store.read((tx) => tx.contacts.find(riderId)))!.unsubscribedAt).toBeNull();
    await world.post(stop, { action: 'again' });
    expect(await queue()).toBe(true);
  });

  it('tells of nothing where nothing was done since it arrived', async () => {
    const { queue } = await serviced({ on: day('2026-05-30') });
    expect(await queue()).toBe(false);
  });
});

describe('how it was set', () => {
  const set = (stage: 'came' | 'left', values: Readonly<Record<string, string>>) =>
    ({ stage, name: 'a rider nobody else should read of', values }) as const;

  it('as it left stands in the mail, and on the page beside how it came', async () => {
    const { world, queue, deliver, unitId, entry } = await serviced();
    await world.store.write(async (tx) => {
      await addSetUp(tx, { unitId, ...set('came', { pressure: '71 psi', rebound: '6' }) }, entry());
      await addSetUp(tx, { unitId, ...set('left', { pressure: '78 psi', rebound: '8' }) }, entry());
    });
    await queue();
    const [mail] = await deliver();
    expect(mail!.text).toContain('Set-up as it left');
    expect(mail!.text).toContain('Pressure: 78 psi');
    expect(mail!.text).not.toMatch(/71 psi|nobody else/);
    const page = /https:\/\/\S+\/found\/\S+/.exec(mail!.text)![0];
    const text = plain(await world.text(page));
    expect(text).toMatch(/What is set As it came As it left Pressure 71 psi 78 psi .*Rebound, clicks 6 8/);
    expect(text).not.toContain('nobody else');
  });

  it('of another service is not told with this one', async () => {
    const { world, queue, deliver, unitId, entry } = await serviced();
    await world.store.write((tx) =>
      addSetUp(tx, { unitId, ...set('left', { pressure: '78 psi' }) }, entry()),
    );
    await queue();
    const page = /https:\/\/\S+\/found\/\S+/.exec((await deliver())[0]!.text)![0];
    world.now = '2026-06-20T09:00:00Z';
    await world.store.write(async (tx) => {
      const body = { unitId, serviceKind: 'lower-leg', on: day('2026-06-20'), by: 'here' } as const;
      await addService(tx, { ...body, findings: null, note: null }, entry());
      await addSetUp(tx, { unitId, ...set('left', { pressure: '85 psi' }) }, entry());
    });
    const text = plain(await world.text(page));
    expect(text).toContain('78 psi');
    expect(text).not.toContain('85 psi');
  });
});

describe('the page', () => {
  it('stands for the rider with the photograph, the set-up and what comes next, in their language', async () => {
    const { world, queue, deliver, photo } = await serviced();
    await queue();
    const page = /https:\/\/\S+\/found\/\S+/.exec((await deliver())[0]!.text)![0];
    const text = plain(await world.text(page));
    for (const said of [
      'Do not ride it',
      'Talk to us first',
      'Rings on white paper',
      '82 psi',
      'Done on',
      'Before anybody opens a unit',
    ])
      expect(text).toContain(said);
    expect(text).not.toMatch(/for us alone|80 €/);
    const home = page.split('/found/')[0]!;
    const picture = await world.get(`${home}/photos/${photo}/small`);
    expect([picture.status, picture.headers.get('content-type')]).toEqual([200, 'image/jpeg']);
    expect(plain(await world.text(home))).toContain('lower-leg service');
    expect(await world.text(home)).toContain('/found/');
  });

  it('is another rider’s by no link of theirs, photographs neither', async () => {
    const { world, serviceId, photo } = await serviced();
    const other = linksOf(await world.reminderTo('r2@example.org')).get('page')!;
    expect(plain(await world.text(`${other}/units/F-1/found/${serviceId}`))).toContain(
      'No longer on this bike',
    );
    expect(plain(await world.text(`${other}/units/F-2/found/${serviceId}`))).toContain(
      'No longer on this bike',
    );
    expect((await world.get(`${other}/units/F-1/photos/${photo}`)).status).toBe(404);
    expect((await world.get(`${other}/units/F-2/photos/${photo}`)).status).toBe(404);
  });
});
