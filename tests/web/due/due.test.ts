import { expect, test } from 'vitest';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

const rowsOf = (text: string): string[] =>
  [...text.matchAll(/<tr role="row"><th role="rowheader".*?<\/tr>/gs)].map(([row]) => row);

test('each unit and service kind has a row with its hours, interval, state and dates in words', async () => {
  const { app } = await webWorld();
  const rows = rowsOf(await (await signedIn(app)).text('/due')).map(plain);
  // Three forks with four service kinds, one air shock with three.
  expect(rows).toHaveLength(15);
  const lowerLeg = rows.find((row) => row.startsWith('F-0001') && row.includes('lower-leg service'))!;
  expect(lowerLeg).toContain('fork, Sample fork T-150');
  expect(lowerLeg).toContain('coming up');
  expect(lowerLeg).toContain('45 h of 50 h 5 h left');
  expect(lowerLeg).toContain('45 h of 75 h');
  expect(lowerLeg).toContain('50 h or 12 months terrain hours first');
  expect(lowerLeg).toContain('Green trail bike Pia Lanternby');
  expect(lowerLeg).toMatch(/\d+ (June|July) \d+ (June|July) to \d+ (June|July|August)/);
  const unknown = rows.filter((row) => row.startsWith('F-0003'));
  expect(unknown).toHaveLength(4);
  for (const row of unknown) {
    expect(row).toContain('history unknown cannot be foretold');
    expect(row).toContain('since it came');
    expect(row).toContain('Hire bike no rider');
  }
  expect(rows.filter((row) => row.startsWith('A-0001')).every((row) => row.endsWith('on no bike'))).toBe(
    true,
  );
});

test('what presses stands first, and the page says as of when and that severity is an estimate', async () => {
  const { app } = await webWorld();
  const text = await (await signedIn(app)).text('/due');
  const states = rowsOf(text).map((row) => /data-label="State"><div>(.*?)<\/div>/.exec(row)![1]!);
  expect(states.slice(0, 5)).toEqual([...Array(4).fill('history unknown'), 'coming up']);
  expect(new Set(states.slice(5))).toEqual(new Set(['in time']));
  // Ten in the morning where the workshop is, by the summer time of the IANA data; nine by UTC.
  expect(text).toContain('As of 10 June, 10:00.');
  expect(plain(text)).toContain('That severity is an estimate');
  expect(plain(text)).toContain('Before anybody opens a unit');
});

test('the list can be cut to a state and to a tag, bike or rider', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  expect(rowsOf(await visitor.text('/due?state=history-unknown'))).toHaveLength(4);
  expect(rowsOf(await visitor.text('/due?find=f-0001'))).toHaveLength(4);
  expect(rowsOf(await visitor.text('/due?find=LANTERNBY&state=coming-up'))).toHaveLength(1);
  expect(rowsOf(await visitor.text('/due?find=hire'))).toHaveLength(4);
  expect(await visitor.text('/due?find=zebra')).toContain('No unit fits.');
  // What makes no sense is left aside.
  expect(rowsOf(await visitor.text('/due?state=zebra&page=-3'))).toHaveLength(15);
});

test('a long list comes in pages', async () => {
  const many = Array.from({ length: 21 }, (_, i) => ({
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
  expect(plain(text)).toContain('45 h de 50 h');
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
