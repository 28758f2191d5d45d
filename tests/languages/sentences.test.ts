/** A page in one language holds no label of the other. */
import { expect, test } from 'vitest';
import { ALL } from '../../src/languages/all.js';
import { crawl } from '../fixtures/pageForms.js';
import { isLabel, textsOf } from '../fixtures/texts.js';
import { rideFile } from '../flow/flowWorld.js';
import { linksOf, DOCUMENT as RIDERS, RiderWorld } from '../flow/riderWorld.js';
import { planDocument } from '../web/planWorld.js';
import { plain, signedIn } from '../web/visitor.js';
import { DOCUMENT, NAME, webWorld } from '../web/webWorld.js';

const all = (...of: object[]): string[] => of.flatMap((one) => textsOf(one).map(([, text]) => text));
const shownIn = ({ pages, rider, terms }: (typeof ALL)['en']): string[] =>
  all(pages, rider, { ...terms, name: '' });
const portuguese = new Set(shownIn(ALL.pt));

/** Labels that say the same in both languages tell nothing, nor do the languages' own names. */
const english = new Set(
  shownIn(ALL.en).filter((text) => isLabel(text) && !portuguese.has(text) && !/[\u00ab#{]/.test(text)),
);

/** What stands between two tags, in a title or in a label of its own. */
const textsOn = (page: string): string[] =>
  [...page.matchAll(/>([^<>]+)<|(?:aria-label|data-label)="([^"]*)"/g)]
    .map(([, between, label]) => (between ?? label ?? '').trim())
    .filter((text) => text !== '');

function expectNoEnglish(pages: ReadonlyMap<string, string>): void {
  const found = [...pages].flatMap(([path, page]) =>
    textsOn(page)
      // An account's name is as somebody typed it.
      .filter((text) => english.has(text) && text !== NAME)
      .map((text) => `${path}: ${text}`),
  );
  expect([...new Set(found)]).toEqual([]);
}

test('the search finds an English label on an English page', async () => {
  const { app } = await webWorld();
  const found = textsOn(await (await signedIn(app)).text('/units')).filter((text) => english.has(text));
  expect(found).toEqual(expect.arrayContaining(['Units', 'Sign out', 'State']));
});

test('no page of a Portuguese workshop shows an English label', async () => {
  const document = { ...planDocument(DOCUMENT), workshop: { ...DOCUMENT.workshop, language: 'pt' } };
  const { app } = await webWorld({ document });
  const visitor = await signedIn(app);
  const { pages } = await crawl((path) => visitor.text(path), ['/', '/races', '/day', '/findings'], 60);
  expect(pages.size).toBeGreaterThan(25);
  for (const page of pages.values()) if (page.includes('<html')) expect(page).toContain('<html lang="pt">');
  expectNoEnglish(pages);
});

test('no page of a Portuguese rider shows an English label', async () => {
  const riders = RIDERS.riders.map((one) => ({ ...one, language: 'pt' }));
  const world = await RiderWorld.open({ document: { ...RIDERS, riders } });
  await world.flow.take(rideFile('2026-06-08T08:00:00Z', 60), { bike: 'b1' });
  const links = linksOf(await world.reminderTo('r1@example.org'));
  const start = [...links.values(), `${links.get('page')}/forget`].map((url) => new URL(url).pathname);
  const { pages } = await crawl(async (path) => (await world.app.request(path)).text(), start, 60);
  expect(pages.size).toBeGreaterThan(12);
  expectNoEnglish(pages);
});

test('what the ledger refuses is told in Portuguese on the pages of a Portuguese workshop', async () => {
  const { app } = await webWorld({
    document: { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, language: 'pt' } },
  });
  const visitor = await signedIn(app);
  const page = '/units/F-0001';
  const fact = /name="fact" value="([^"]+)"/.exec(await visitor.text(page))![1]!;
  const tried = [
    [
      `${page}/fit`,
      { fitBike: 'b2', fitFrom: '2026-06-09' },
      'F-0001 está na bicicleta b1 desde 1 de janeiro',
    ],
    [
      `${page}/swap`,
      { swapWith: 'A-0001', swapFrom: '2026-06-09' },
      'F-0001 é forqueta e A-0001 é amortecedor.',
    ],
    [`${page}/swap`, { swapWith: 'F-0001', swapFrom: '2026-06-09' }, 'não se troca consigo mesma'],
    [`/units/A-0001/off`, { offFrom: '2026-06-09' }, 'A-0001 não estava em nenhuma bicicleta em 9 de junho.'],
    [`${page}/tag`, { newTag: 'F-0002', tagWhy: 'engano', fact }, '"F-0002" já é o nome de outra unidade.'],
  ] as const;
  for (const [path, fields, says] of tried) {
    const response = await visitor.send(page, path, fields);
    expect([path, response.status]).toEqual([path, 409]);
    const text = plain(await response.text());
    expect(text).toContain(says);
    expect(text).not.toMatch(/Take it off|swap the two|cannot be|is already called/);
  }
});
