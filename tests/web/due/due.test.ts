import { expect, test } from 'vitest';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

const rowsOf = (text: string): string[] =>
  [...text.matchAll(/<tr role="row"><th role="rowheader".*?<\/tr>/gs)].map(([row]) => row);

test('each unit has a row by the service that comes first, its others folded under it', async () => {
  const { app } = await webWorld();
  const rows = rowsOf(await (await signedIn(app)).text('/due')).map(plain);
  // Three forks and an air shock.
  expect(rows).toHaveLength(4);
  const fork = rows.find((row) => row.startsWith('F-0001'))!;
  expect(fork).toMatch(/^F-0001 fork, Sample fork T-150 lower-leg service 3 other services/);
  for (const kind of ['air-spring service', 'damper service', 'full service'])
    expect(fork).toContain(`${kind} , in time`);
  expect(fork).toContain('coming up');
  expect(fork).toContain('45.0 h of 50 h 5.0 h left');
  expect(fork).toContain('45.0 h of 75 h');
  expect(fork).toContain('Green trail bike Pia Lanternby');
  expect(fork).toMatch(/\d+ (June|July) \d+ (June|July) to \d+ (June|July|August)/);
  const unknown = rows.find((row) => row.startsWith('F-0003'))!;
  expect(unknown).toContain('history unknown cannot be predicted');
  expect(unknown).toContain('since it came');
  expect(unknown).toContain('Hire bike no rider');
  expect(rows.find((row) => row.startsWith('A-0001'))).toMatch(/on no bike$/);
});

test('what presses stands first, and the page says as of when and that severity is an estimate', async () => {
  const { app } = await webWorld();
  const text = await (await signedIn(app)).text('/due');
  const states = rowsOf(text).map((row) => /data-label="State"><div>(.*?)<\/div>/.exec(row)![1]!);
  expect(states.slice(0, 2)).toEqual(['history unknown', 'coming up']);
  expect(new Set(states.slice(2))).toEqual(new Set(['in time']));
  // Ten in the morning where the workshop is, by the summer time of the IANA data; nine by UTC.
  expect(text).toContain('As of 10 June, 10:00.');
  expect(plain(text)).toContain('That severity is an estimate');
  expect(plain(text)).toContain('Before anybody opens a unit');
});

test('one count, of units, stands on the list, on Today and beside the bench', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const counted = (text: string): string[] =>
    [...text.matchAll(/\/due\?state=[\w-]+">(\d+ [\w ]+)</g)].map(([, count]) => count!).sort();
  const due = counted(await visitor.text('/due'));
  expect(due).toEqual(['1 coming up', '1 history unknown', '2 in time']);
  expect(counted(await visitor.text('/'))).toEqual(due);
  await visitor.send('/bench', '/bench/arrive', { tag: 'F-0003' });
  expect(counted(await visitor.text('/'))).toEqual(['1 coming up', '1 on the bench', '2 in time']);
  expect(plain(await visitor.text('/bench'))).toContain('At the workshop: 1 unit.');
  const { counts } = await store.read((tx) => tx.standings.summary());
  expect([...counts.values()].reduce((a, b) => a + b)).toBe(4);
});

test('the list can be cut to a state and to a tag, bike or rider', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  expect(rowsOf(await visitor.text('/due?state=history-unknown'))).toHaveLength(1);
  expect(rowsOf(await visitor.text('/due?find=f-0001'))).toHaveLength(1);
  expect(rowsOf(await visitor.text('/due?find=LANTERNBY&state=coming-up'))).toHaveLength(1);
  expect(rowsOf(await visitor.text('/due?find=hire'))).toHaveLength(1);
  expect(await visitor.text('/due?find=zebra')).toContain('No unit matches.');
  // What makes no sense is left aside.
  expect(rowsOf(await visitor.text('/due?state=zebra&page=-3'))).toHaveLength(4);
});

test('a long list comes in pages', async () => {
  const many = Array.from({ length: 84 }, (_, i) => ({
    tag: `F-1${String(i).padStart(3, '0')}`,
    unitKind: 'fork',
    history: 'new',
  }));
  const { app } = await webWorld({ document: { ...DOCUMENT, units: [...DOCUMENT.units, ...many] } });
  const visitor = await signedIn(app);
  const first = await visitor.text('/due?find=F-1');
  expect(rowsOf(first)).toHaveLength(60);
  expect(first).toContain('1 to 60 of 84');
  const second = await visitor.text('/due?find=F-1&page=2');
  expect(rowsOf(second)).toHaveLength(24);
  expect(second).toContain('61 to 84 of 84');
  // Without a search the same, in the order of the store.
  const all = await visitor.text('/due?page=2');
  expect(rowsOf(all)).toHaveLength(28);
});

test('names are shown as typed and never run', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  const text = await visitor.text('/due?find="><script>x</script>');
  expect(text).toContain('value="&quot;&gt;&lt;script&gt;x&lt;/script&gt;"');
  const all = (await visitor.text('/due')) + text;
  expect(all).not.toMatch(/<script>|<b>bold|<i>T/);
  expect(all).toContain('Otto &lt;script&gt;alert(1)&lt;/script&gt;');
  expect(all).toContain('Bike &quot;2&quot; &lt;b&gt;bold&lt;/b&gt;');
});

test("the page speaks the workshop's language", async () => {
  const workshop = { ...DOCUMENT.workshop, language: 'pt' };
  const { app } = await webWorld({ document: { ...DOCUMENT, workshop } });
  const text = await (await signedIn(app)).text('/due');
  expect(text).toContain('<html lang="pt">');
  expect(text).toContain('historial desconhecido');
  expect(plain(text)).toContain('45,0 h de 50 h');
});

test('of what is due alike the list is in order of tags, by the name that a unit has now', async () => {
  const alike = ['F-2001', 'F-2002', 'F-2003'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' }));
  const { app } = await webWorld({ document: { ...DOCUMENT, units: [...DOCUMENT.units, ...alike] } });
  const visitor = await signedIn(app);
  const dampers = async (): Promise<string[]> =>
    rowsOf(await visitor.text('/due?state=in-time'))
      .map(plain)
      .filter((row) => /^\w-2\d{3} .*damper service/.test(row))
      .map((row) => row.slice(0, 6));
  expect(await dampers()).toEqual(['F-2001', 'F-2002', 'F-2003']);
  const fact = /name="fact" value="([^"]+)"/.exec(await visitor.text('/units/F-2003'))![1]!;
  const renamed = { fact, newTag: 'B-2003', tagWhy: 'typed wrong' };
  expect((await visitor.send('/units/F-2003', '/units/F-2003/tag', renamed)).status).toBe(303);
  expect(await dampers()).toEqual(['B-2003', 'F-2001', 'F-2002']);
});

test.each([
  ['who was named with it', { fitted: false, named: 'r2' }, 'Otto'],
  ['on whose bike it was last', { fitted: true, named: undefined }, 'Pia Lanternby'],
])('a unit in its box is of the rider %s, and is found by that name', async (_, { fitted, named }, name) => {
  const units = DOCUMENT.units.map((one) =>
    one.tag === 'A-0001' && named !== undefined ? { ...one, rider: named } : one,
  );
  const before = { unit: 'A-0001', bike: 'b1', from: '2026-01-01', to: '2026-02-01' };
  const fittings = [...DOCUMENT.fittings, ...(fitted ? [before] : [])];
  const owner = await signedIn((await webWorld({ document: { ...DOCUMENT, units, fittings } })).app);
  const found = rowsOf(await owner.text(`/due?${new URLSearchParams({ find: name })}`)).map(plain);
  expect(found.find((row) => row.startsWith('A-0001'))).toMatch(new RegExp(`on no bike ${name}`));
});
