/** After the hand-over: a job that comes back, with its cause and at no charge; a claim from opened to answered. */
import { expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

const PAGE = '/units/F-0001';
const SERVICE = '2026-05-20';
const document = {
  ...DOCUMENT,
  services: [
    { unit: 'F-0001', serviceKind: 'lower-leg', on: SERVICE },
    { unit: 'F-0002', serviceKind: 'lower-leg', on: SERVICE },
    { unit: 'F-0001', serviceKind: 'full', on: '2026-05-01', by: 'another-workshop' },
  ],
};

async function opened(language: 'en' | 'pt' = 'en') {
  const world = await webWorld({
    document: { ...document, workshop: { ...DOCUMENT.workshop, language } },
  });
  return { ...world, owner: await signedIn(world.app) };
}

it('a job is the comeback of a service here, at no charge, and the weekly look counts it by model and cause', async () => {
  const { owner, store } = await opened();
  expect(plain(await owner.text('/comebacks'))).toContain('No job has come back.');
  await owner.send(PAGE, `${PAGE}/arrive`, { from: 'unit', wish: 'weeps again' });
  const text = await owner.text(PAGE);
  const fact = /name="fact" value="([^"]+)"><input type="hidden" name="from" value="unit">/.exec(text)![1]!;
  // What another workshop did comes back to that one.
  expect([...text.matchAll(/<option value="2026-[^"]+"/g)].map(([one]) => one)).toContain(
    `<option value="${SERVICE} lower-leg"`,
  );
  expect(text).not.toContain('<option value="2026-05-01 full"');
  const said = { fact, from: 'unit', wish: 'weeps again', promisedFor: '', price: '', missing: '' };
  const job = { ...said, comeback: `${SERVICE} lower-leg`, cause: 'seal' };
  const saved = await owner.send(PAGE, `${PAGE}/job`, job);
  expect(saved.status).toBe(303);
  expect(plain(await owner.text(PAGE))).toContain(
    'comeback of the lower-leg service of 20 May: a seal; at no charge',
  );
  expect(plain(await owner.text('/bench'))).toContain('at no charge');
  expect(plain(await owner.text(`${PAGE}/book`))).toContain('comeback of the lower-leg service');
  const look = plain(await owner.text('/comebacks'));
  expect(look).toMatch(/Arrived in the last seven days .*F-0001.*lower-leg service, 20 May a seal/);
  // Two such forks had the service, of the model that both are.
  const models = await store.read(async (tx) =>
    (await tx.facts.list('unit')).filter(({ body }) => ['F-0001', 'F-0002'].includes(body.tag)),
  );
  const isSame = models[0]!.body.model === models[1]!.body.model;
  expect(look).toContain(`lower-leg service a seal 1 ${isSame ? '1 of 2' : '1 of 1'}`);
  expect(plain(await owner.text('/findings'))).toContain('Comebacks and claims');
  expect((await checkLedger(store)).faults).toEqual([]);
});

it('a comeback of what never was is refused, and one that is no comeback after all is none', async () => {
  const { owner, store } = await opened();
  await owner.send(PAGE, `${PAGE}/arrive`, { from: 'unit' });
  const seen = async (): Promise<string> =>
    /name="fact" value="([^"]+)"><input type="hidden" name="from" value="unit">/.exec(
      await owner.text(PAGE),
    )![1]!;
  const said = { from: 'unit', wish: '', promisedFor: '', price: '', missing: '' };
  const wrong = await owner.send(PAGE, `${PAGE}/job`, {
    ...said,
    fact: await seen(),
    comeback: '2020-01-01 full',
  });
  expect(wrong.status).toBe(422);
  const of = { comeback: `${SERVICE} lower-leg`, cause: '' };
  await owner.send(PAGE, `${PAGE}/job`, { ...said, fact: await seen(), ...of });
  expect(plain(await owner.text(PAGE))).toContain('not known yet; at no charge');
  await owner.send(PAGE, `${PAGE}/job`, { ...said, fact: await seen(), comeback: '', cause: '' });
  expect(plain(await owner.text('/comebacks'))).toContain('No job has come back.');
  expect((await checkLedger(store)).faults).toEqual([]);
});

it('a claim is opened, sent and answered, each step in the book with who said it', async () => {
  const { owner, store } = await opened();
  const claim = async (fields: Record<string, string>) => {
    const seen = /name="claimFact" value="([^"]*)"/.exec(await owner.text(PAGE))![1]!;
    return owner.send(PAGE, `${PAGE}/claim`, { claimFact: seen, claimTo: '', claimAnswer: '', ...fields });
  };
  expect((await claim({ claimWhat: ' ', claimStep: 'opened' })).status).toBe(422);
  const open = await claim({ claimWhat: 'bushings loose', claimStep: 'opened' });
  expect(open.headers.get('location')).toBe(`${PAGE}?done=claim`);
  const nobody = await claim({ claimWhat: 'bushings loose', claimStep: 'sent' });
  expect(nobody.status).toBe(422);
  expect(plain(await nobody.text())).toContain('Write to whom the claim was sent.');
  await claim({ claimWhat: 'bushings loose', claimStep: 'sent', claimTo: 'the importer' });
  expect(plain(await owner.text('/comebacks'))).toMatch(/F-0001 10 June bushings loose the importer sent/);
  await claim({
    claimWhat: 'bushings loose',
    claimStep: 'granted',
    claimTo: 'the importer',
    claimAnswer: 'new lowers',
  });
  expect(plain(await owner.text('/comebacks'))).toContain('No claim is open.');
  expect(plain(await owner.text(`${PAGE}/book`))).toMatch(
    /claim under warranty: bushings loose; granted; to the importer; new lowers/,
  );
  // One that is answered is closed: the next is another.
  expect(/name="claimFact" value="([^"]*)"/.exec(await owner.text(PAGE))![1]).toBe('');
  expect((await checkLedger(store)).faults).toEqual([]);
});

it('two who change a claim at once see each other', async () => {
  const { owner } = await opened();
  await owner.send(PAGE, `${PAGE}/claim`, {
    claimFact: '',
    claimWhat: 'x',
    claimStep: 'opened',
    claimTo: '',
    claimAnswer: '',
  });
  const claimFact = /name="claimFact" value="([^"]*)"/.exec(await owner.text(PAGE))![1]!;
  const fields = { claimFact, claimWhat: 'y', claimStep: 'opened', claimTo: '', claimAnswer: '' };
  expect((await owner.send(PAGE, `${PAGE}/claim`, fields)).status).toBe(303);
  expect((await owner.send(PAGE, `${PAGE}/claim`, fields)).status).toBe(409);
});

it('speaks Portuguese', async () => {
  const { owner } = await opened('pt');
  expect(plain(await owner.text('/comebacks'))).toContain('Nenhum trabalho voltou.');
  expect(plain(await owner.text(PAGE))).toContain('Reclamação ao abrigo da garantia');
});

it('a service of over a year ago that came back counts among such services', async () => {
  const old = { unit: 'F-0001', serviceKind: 'lower-leg', on: '2025-05-20' };
  const units = DOCUMENT.units.map((unit) => ({ ...unit, history: 'unknown' }));
  const fittings = DOCUMENT.fittings.map((one) => ({ ...one, from: '2025-01-02' }));
  const world = await webWorld({ document: { ...DOCUMENT, units, fittings, services: [old] } });
  const owner = await signedIn(world.app);
  await owner.send(PAGE, `${PAGE}/arrive`, { from: 'unit' });
  const fact = /name="fact" value="([^"]+)"><input type="hidden" name="from" value="unit">/.exec(
    await owner.text(PAGE),
  )![1]!;
  const said = { fact, from: 'unit', wish: '', promisedFor: '', price: '', missing: '' };
  await owner.send(PAGE, `${PAGE}/job`, { ...said, comeback: '2025-05-20 lower-leg', cause: 'seal' });
  expect(plain(await owner.text('/comebacks'))).toContain('lower-leg service a seal 1 1 of 1');
});
