import { expect, test } from 'vitest';
import { booked as bookedOn } from '../../fixtures/booked.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, NOW, type WebWorld, webWorld } from '../webWorld.js';

/** Invented: what somebody typed into the card of F-0001. */
const SPEC = { 'Lower-leg oil': 'as typed <b>', 'Foot bolts': 'see page 12' };

const withSpec = {
  ...DOCUMENT,
  workshop: { ...DOCUMENT.workshop, language: 'en' },
  units: DOCUMENT.units.map((unit) =>
    unit.tag === 'F-0001' ? { ...unit, serial: 'SN-77', spec: SPEC } : unit,
  ),
  services: [
    { unit: 'F-0001', serviceKind: 'full', on: '2026-02-01', findings: { foamRings: 'honey', oil: 'brown' } },
    { unit: 'F-0001', serviceKind: 'wipers-only', on: '2026-04-01', elsewhere: true, note: 'New wipers' },
  ],
};

async function opened(document: unknown = withSpec): Promise<WebWorld & { visitor: Visitor }> {
  const world = await webWorld({ document });
  return { ...world, visitor: await signedIn(world.app) };
}

test('a card says whose unit it is, its hours by service kind, its last services, and what was typed', async () => {
  const { visitor } = await opened();
  const markup = await visitor.text('/units/F-0001/card');
  const text = plain(markup);
  expect(text).toContain(
    'F-0001 fork, Sample fork T-150 Serial number SN-77 Green trail bike, Pia Lanternby',
  );
  // Rides of three hours on typical ground weigh as three; all fifteen came after 1 February, smaller jobs first.
  expect(text).toMatch(
    /lower-leg service 45\.0.h 45\.0.h 50.h, 12 months or 75.h moving at most coming up air-spring service 45\.0.h 45\.0.h .* damper service 45\.0.h 45\.0.h .* full service 45\.0.h 45\.0.h/,
  );
  expect(text).toContain(
    '1 April 2026 : wipers only (restarts nothing); done at another workshop; New wipers',
  );
  expect(text).toContain('1 February 2026 : full service; Foam rings: honey; Oil: brown');
  expect(text).toContain('Lower-leg oil as typed <b> Foot bolts see page 12 All else: look it up');
  expect(text).toMatch(
    /Before opening .*Inside Foam rings: pale honey dark Rings now: put back new .*After Both foot nuts/,
  );
  expect(text).not.toContain('were dark at the last visit');
  expect(text).toContain('Pressure out first, slowly;');
  expect(text).toContain('Done by on signature Printed 10 June 2026 by owner');
  expect(markup).toContain('<body class="on-card">');
});

test('a card warns of what its kind of unit does, and of nothing else', async () => {
  const { visitor } = await opened({
    ...withSpec,
    units: [
      ...withSpec.units,
      { tag: 'F-0009', unitKind: 'fork', spring: 'coil', model: 'Sample coil fork', history: 'new' },
      { tag: 'C-0009', unitKind: 'coil-shock', model: 'Sample coil shock', history: 'new' },
    ],
  });
  const warnings = {
    air: 'valve core out only when empty',
    coil: 'Preload off the coil',
    gas: 'gas under pressure',
    stud: 'never steel on the stud',
  };
  for (const [tag, expected] of [
    ['F-0001', ['air', 'stud']],
    ['F-0009', ['coil', 'stud']],
    ['A-0001', ['air', 'gas']],
    ['C-0009', ['coil', 'gas']],
  ] as const) {
    const text = plain(await visitor.text(`/units/${tag}/card`));
    const found = Object.entries(warnings).filter(([, warning]) => text.includes(warning));
    expect([tag, found.map(([name]) => name)]).toEqual([tag, expected]);
  }
});

test('a card states no oil, torque or pressure that nobody typed', async () => {
  const { visitor } = await opened();
  const text = plain(await visitor.text('/units/A-0001/card'));
  expect(text).toContain('Oil and amounts, torques, pressures: look them up in the maker’s manual.');
  expect(text).toContain('on no bike');
  expect(text).toContain('Last services none known');
  expect(text).not.toContain('History unknown: inspect.');
  expect(plain(await visitor.text('/units/F-0003/card'))).toContain(
    'History unknown: inspect. It is planned as a full',
  );
  expect(text).toMatch(/Do not ride: a crack, .*Have it checked soon, and in doubt do not ride: a scratch/);
  expect(text).toContain('holds trapped pressure: equalise it, and do not open it');
  expect(text).toContain('Eyelets: tight play cracked');
  expect(text).toContain('Shaft: clean scratched coating through');
  expect(text).not.toContain('Foam rings');
  expect(text).not.toMatch(/\d\s?(Nm|psi|bar|ml|wt)\b/);
});

const tickedOn = (markup: string): string[] =>
  [...markup.matchAll(/class="box ticked">×<\/span>([^<]+)/g)].map(([, job]) => job!);

const booked = (store: WebWorld['store'], serviceKind: string) =>
  bookedOn(store, 'F-0001', '2026-06-12', { at: NOW, jobs: [serviceKind] });

test('the form to log a service begins with what the card ticks, and what went in is told as it was kept', async () => {
  const { visitor, store } = await opened();
  await booked(store, 'full');
  const form = await visitor.text('/units/F-0001/service');
  expect(
    /<option value="(\w[\w-]*)" selected>/.exec(/name="kind"[\s\S]*?<\/select>/.exec(form)![0])?.[1],
  ).toBe('full');
  await visitor.send('/units/F-0001', '/units/F-0001/service', {
    kind: 'full',
    on: '2026-06-01',
    parts: '2 × foam ring; wiper kit',
    technician: 'Bram Tallow',
  });
  expect(plain(await visitor.text('/units/F-0001'))).toMatch(
    /2\s×\sfoam ring; 1\s×\swiper kit; technician: Bram Tallow/,
  );
});

test('the job that has a day is ticked, else what is due, else what the address asks for', async () => {
  const { visitor, store } = await opened();
  expect(tickedOn(await visitor.text('/units/F-0001/card'))).toEqual([]);
  expect(tickedOn(await visitor.text('/units/F-0001/card?job=damper'))).toEqual(['damper service']);
  expect(tickedOn(await visitor.text('/units/F-0001/card?job=bushings'))).toEqual([]);
  await booked(store, 'lower-leg');
  const card = await visitor.text('/units/F-0001/card');
  expect(tickedOn(card)).toEqual(['lower-leg service']);
  expect(plain(card)).toContain('1 × set (fork, lower-leg service)');
});

test('card and page say how old rings and wipers are, put back for the second time', async () => {
  const findings = { foamRings: 'honey', foamRingsNow: 'put-back' };
  const { visitor } = await opened({
    ...withSpec,
    services: [{ unit: 'F-0001', serviceKind: 'lower-leg', on: '2026-04-01', findings }],
  });
  for (const page of ['/units/F-0001/card', '/units/F-0001']) {
    const text = plain(await visitor.text(page));
    expect(text, page).toMatch(
      /Foam rings 45.h old, second time round \(terrain hours, an estimate; 45.h moving\)/,
    );
    expect(text, page).toContain('Wipers age unknown until a service says they are new');
  }
});

test('a crash mark stands above all on the card', async () => {
  const { visitor } = await opened();
  await visitor.send('/units/F-0001', '/units/F-0001/mark', { why: 'Creaks <i>' });
  const text = plain(await visitor.text('/units/F-0001/card'));
  expect(text).toContain('Stop riding, have it checked first: Creaks <i>');
  expect(text.indexOf('Creaks')).toBeLessThan(text.indexOf('Pressure out first'));
});

test('a kind of the workshop’s own is a job on the card, in the form and among the intervals', async () => {
  const { visitor, store } = await opened({
    ...DOCUMENT,
    serviceKinds: [{ unitKind: 'fork', name: 'air-side', terrainHours: 60 }],
  });
  expect(plain(await visitor.text('/units/F-0001/card'))).toMatch(/Job: .*full service air-side seal repair/);
  expect(plain(await visitor.text('/intervals'))).toContain('fork air-side 60');
  expect((await visitor.get('/intervals/fork/air-side')).status).toBe(200);
  const sent = await visitor.send('/units/F-0001', '/units/F-0001/service', {
    kind: 'air-side',
    on: '2026-06-01',
  });
  expect(sent.headers.get('location')).toBe('/units/F-0001?done=service');
  const services = await store.read((tx) => tx.facts.list('service'));
  expect(services[0]!.body.restarts).toEqual(['air-side']);
});

test('a card speaks Portuguese, and there is none of a unit that there is not', async () => {
  const { visitor } = await opened({ ...withSpec, workshop: { ...DOCUMENT.workshop, language: 'pt' } });
  const text = plain(await visitor.text('/units/F-0001/card'));
  expect(text).toContain('Primeiro a pressão fora, devagar;');
  expect(text).toContain('Anéis de espuma: claros cor de mel escuros Anéis agora: os mesmos novos');
  expect(text).toContain('Impresso a 10 de junho de 2026 por owner');
  expect((await visitor.get('/units/F-9999/card')).status).toBe(404);
});

test('what was found is told in the workshop’s language on the card, in the book and on the unit’s page', async () => {
  const findings = { foamRings: 'dark', oil: 'milky', crown: 'as somebody typed it' };
  const { visitor } = await opened({
    ...withSpec,
    workshop: { ...DOCUMENT.workshop, language: 'pt' },
    services: [{ unit: 'F-0001', serviceKind: 'full', on: '2026-02-01', findings }],
  });
  for (const page of ['/units/F-0001/card', '/units/F-0001/book', '/units/F-0001'])
    expect(plain(await visitor.text(page)), page).toContain(
      'Coroa e tubo de direção: as somebody typed it; Anéis de espuma: escuros; Óleo: leitoso',
    );
  const choices = [
    ...(await visitor.text('/units/F-0001/service')).matchAll(
      /<input type="radio"[^>]*value="(milky|dark)">([^<]+)/g,
    ),
  ];
  expect(choices.map(([, value, word]) => [value, word])).toEqual([
    ['dark', 'escuros'],
    ['milky', 'leitoso'],
    ['milky', 'leitoso'],
  ]);
  expect(plain(await visitor.text('/units/F-0001/card'))).toContain(
    'Os anéis de espuma estavam escuros na última visita.',
  );
});

/** Each field of the form to log a service with the values that the page offers. */
async function offered(visitor: Visitor, page: string): Promise<{ name: string; values: string[] }[]> {
  const form = (await visitor.text(`${page}/service`))
    .split(`action="${page}/service"`)[1]!
    .split('</form>')[0]!;
  const values = new Map<string, string[]>();
  for (const [tag, name = ''] of form.matchAll(
    /<(?:select id="\w+"|input type="(?:radio|checkbox)") name="(\w+)"[^>]*>/g,
  )) {
    const of = tag.startsWith('<select') ? form.slice(form.indexOf(tag)).split('</select>')[0]! : tag;
    const found = [...of.matchAll(/value="([^"]+)"/g)].map(([, value]) => value!);
    values.set(name, [...(values.get(name) ?? []), ...found]);
  }
  return [...values].map(([name, of]) => ({ name, values: of }));
}

test('a page offers the jobs and findings of its kind of unit, and the ledger takes each of them', async () => {
  const { visitor, store } = await opened({
    ...withSpec,
    units: [
      ...withSpec.units,
      { tag: 'F-0009', unitKind: 'fork', spring: 'coil', model: 'Sample coil fork', history: 'new' },
      { tag: 'C-0009', unitKind: 'coil-shock', model: 'Sample coil shock', history: 'new' },
    ],
  });
  const own = { 'F-0001': 'airSpring', 'F-0009': 'coilSpring', 'A-0001': 'eyelets', 'C-0009': 'coilSpring' };
  const others = { 'F-0001': 'shaft', 'F-0009': 'airSpring', 'A-0001': 'crown', 'C-0009': 'pressureOut' };
  for (const tag of ['F-0001', 'F-0009', 'A-0001', 'C-0009'] as const) {
    const page = `/units/${tag}`;
    const looks = await offered(visitor, page);
    const names = looks.map(({ name }) => name);
    expect(names).toContain(own[tag]);
    expect(names).not.toContain(others[tag]);
    const longest = Math.max(...looks.map(({ values }) => values.length));
    for (let i = 0; i < longest; i++) {
      const fields = Object.fromEntries(looks.map(({ name, values }) => [name, values[i % values.length]!]));
      const { status } = await visitor.send(page, `${page}/service`, {
        ...fields,
        on: '2026-06-01',
        again: 'yes',
      });
      expect(status, JSON.stringify(fields)).toBe(303);
    }
    const logged = await store.read(async (tx) =>
      tx.facts.list('service', { subject: (await tx.handles.find('unit', tag))! }),
    );
    expect(Object.keys(logged.at(-1)!.body.findings!).sort()).toEqual(
      names.filter((name) => name !== 'kind' && name !== 'by').sort(),
    );
  }
});
