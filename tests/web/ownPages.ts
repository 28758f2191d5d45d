/** The pages behind a rider's links, as tests walk them: the own page with all that it leads to, and one a purpose. */
import { DOCUMENT, linksOf, PUBLIC_URL, RiderWorld, withWorkshop } from '../flow/riderWorld.js';

interface OwnPageSeen {
  /** Without its secret. */
  readonly path: string;
  readonly markup: string;
}

/** Invented: what a rider has who rides with and without a recorder, and has been to the workshop. */
const seasonOf = (language: string): object => ({
  ...withWorkshop({ language }),
  riders: DOCUMENT.riders.map((rider) => ({ ...rider, language })),
  hours: [5, 12, 19, 26].map((on, i) => ({
    bike: 'b1',
    on: `2026-05-${String(on).padStart(2, '0')}`,
    minutes: 61 + 7 * i,
    ground: i % 2 === 0 ? 'rough' : 'smooth',
  })),
  services: ['2026-03-01', '2026-04-01'].map((on) => ({
    unit: 'F-1',
    serviceKind: 'lower-leg',
    on,
    findings: { foamRings: 'dark' },
  })),
});

interface OwnPages {
  readonly world: RiderWorld;
  /** With their secrets. */
  readonly paths: readonly string[];
  readonly pages: readonly OwnPageSeen[];
}

/** Returns every page that a rider's links lead to. */
export const listOwnPages = async (language: string): Promise<readonly OwnPageSeen[]> =>
  (await openOwnPages(language)).pages;

/** Returns the same with the world that it was seen in. */
export async function openOwnPages(language: string): Promise<OwnPages> {
  const world = await RiderWorld.open({ document: seasonOf(language) });
  const links = linksOf(await world.reminderTo('r1@example.org'));
  const home = links.get('page')!;
  const paths: string[] = [];
  const pages: OwnPageSeen[] = [];
  const waiting = [
    ...links.values(),
    ...['/data', '/forget', '/said', '/help', '/bikes/new'].map((below) => home + below),
  ];
  const known = new Set(waiting);
  for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
    const { pathname } = new URL(next);
    const answer = await world.app.request(pathname);
    if (answer.status !== 200 || !(answer.headers.get('content-type') ?? '').includes('html')) continue;
    const markup = await answer.text();
    paths.push(pathname);
    pages.push({ path: pathname.replace(/^\/r\/(\w+)\/[^/]+/, '$1'), markup });
    for (const [, link] of markup.matchAll(/<a\b[^>]*\bhref="(\/r\/[^"#?]+)/g)) {
      const url = PUBLIC_URL + link!;
      if (!known.has(url)) waiting.push(url);
      known.add(url);
    }
  }
  return { world, paths, pages };
}
