/** The buttons of every page: one that the page is for at most, and what cannot be undone told apart and told before. */
import { describe, expect, it } from 'vitest';
import { STYLE } from '../../src/web/styles/style.js';
import { addressOf, guarded, idsIn } from './everyRoute.js';
import { listOwnPages } from './ownPages.js';
import { teamWorld } from './teamWorld.js';

interface PageSeen {
  readonly path: string;
  readonly markup: string;
}

/** Returns every page of the table of routes as the owner sees it, and those behind a rider's links. */
async function everyPage(): Promise<PageSeen[]> {
  const world = await teamWorld();
  const ids = await idsIn(world);
  const owner = await world.as('owner');
  const say = (path: string, fields: Parameters<typeof owner.send>[2]): Promise<Response> =>
    owner.send(path, path, fields);
  await say('/settings/people', { does: 'add', name: 'Alma', days: ['wed'], minutes: '240' });
  await say('/settings/kinds', {
    ...{ unitKind: 'fork', name: 'seal check', minutes: '40', restarts: 'lower-leg', restartedBy: 'damper' },
  });
  const seen: PageSeen[] = [];
  for (const entry of guarded.filter(({ method }) => method === 'GET'))
    for (const some of [ids.shop, ids.oak]) {
      const answer = await owner.get(addressOf(entry, some));
      if (!(answer.headers.get('content-type') ?? '').includes('html')) continue;
      seen.push({ path: entry.path, markup: await answer.text() });
    }
  return [...seen, ...(await listOwnPages('en'))];
}

/** They are the same for each test. */
let seenOnce: Promise<PageSeen[]> | undefined;
const pagesSeen = (): Promise<PageSeen[]> => {
  seenOnce ??= everyPage();
  return seenOnce;
};

const buttonsIn = (markup: string): string[] =>
  [...markup.matchAll(/<(?:button|a|label)\b[^>]*>/g)]
    .map(([tag]) => tag)
    .filter((tag) => tag.startsWith('<button') || /class="button\b/.test(tag));

const hasClass = (tag: string, name: string): boolean =>
  (/class="([^"]*)"/.exec(tag)?.[1] ?? '').split(' ').includes(name);

/** What no other press undoes, by where its form is sent and what it says. */
const FOR_GOOD: readonly { readonly to: RegExp; readonly says?: RegExp }[] = [
  { to: /^\/settings\/accounts\/[^/]+\/remove$/ },
  { to: /^\/riders\/[^/]+\/revoke$/ },
  { to: /^\/units\/[^/]+\/lines\/[^/]+\/void$/ },
  { to: /^\/units\/[^/]+\/photos\/[^/]+\/remove$/ },
  { to: /^\/races\/[^/]+\/change$/, says: /name="does" value="remove"/ },
  { to: /^\/settings\/people$/, says: /name="does" value="remove"/ },
  { to: /^\/settings\/kinds$/, says: /name="away" value="yes"/ },
  { to: /^$/, says: /name="sure"[^>]*>[^<]*forget/ },
];

const formsIn = (markup: string): { to: string; form: string }[] =>
  [...markup.matchAll(/<form\b([^>]*)>.*?<\/form>/gs)].map(([form, attributes]) => ({
    to: /action="([^"]*)"/.exec(attributes!)?.[1] ?? '',
    form,
  }));

describe('on every page', { timeout: 120_000 }, () => {
  it('one button at most is what the page is for', async () => {
    const pages = await pagesSeen();
    const more = pages
      .map(({ path, markup }) => ({
        path,
        main: buttonsIn(markup).filter((tag) => hasClass(tag, 'primary')),
      }))
      .filter(({ main }) => main.length > 1);
    expect(more).toEqual([]);
    // Of these somebody came for one thing.
    const withOne = pages.filter(({ markup }) => buttonsIn(markup).some((tag) => hasClass(tag, 'primary')));
    expect(withOne.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['/customers/new', '/units/:tag', '/units/:tag/service', '/account', 'page']),
    );
  });

  it('what cannot be undone looks different, is never what the page is for, and is told before', async () => {
    const found = new Set<(typeof FOR_GOOD)[number]>();
    for (const { path, markup } of await pagesSeen()) {
      for (const { to, form } of formsIn(markup)) {
        const kind = FOR_GOOD.find((one) => one.to.test(to) && (one.says?.test(form) ?? true));
        if (kind === undefined) continue;
        found.add(kind);
        const [button] = buttonsIn(form);
        expect(hasClass(button!, 'grave'), `${path}: ${button}`).toBe(true);
      }
      for (const tag of buttonsIn(markup).filter((one) => hasClass(one, 'grave') || hasClass(one, 'mails'))) {
        expect(hasClass(tag, 'primary'), `${path}: ${tag}`).toBe(false);
        const id = /aria-describedby="([^"]+)"/.exec(tag)?.[1];
        expect(id, `${path}: ${tag}`).toBeDefined();
        expect(markup, `${path}: ${tag}`).toContain(`id="${id}"`);
      }
    }
    const missed = FOR_GOOD.filter((kind) => !found.has(kind)).map(({ to }) => String(to));
    expect(missed).toEqual([]);
  });
});

it('the looks differ in shape, not in colour alone', () => {
  const shape = (name: string): string =>
    /border:([^;}]+)/.exec(new RegExp(`button\\.${name}\\{([^}]*)\\}`).exec(STYLE)?.[1] ?? '')?.[1] ?? '';
  const usual = /button,\.button\{[^}]*?border:([^;}]+)/.exec(STYLE)?.[1] ?? '';
  expect(usual).toContain('1px solid');
  expect(shape('grave')).toContain('double');
  expect(shape('mails')).toContain('dashed');
});
