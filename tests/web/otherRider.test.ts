/** A rider's genuine link, tried on what is another rider's: it gets what somebody gets who asks for what there is not. */

import { describe, expect, it } from 'vitest';
import { LinkMaker } from '../../src/flow/mail/links.js';
import { instant } from '../../src/units.js';
import { allRides } from '../fixtures/allRides.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { rideFile } from '../flow/flowWorld.js';
import { linksOf, RiderWorld, SEAL } from '../flow/riderWorld.js';

const HOUR_MS = 3_600_000;

interface Two {
  readonly world: RiderWorld;
  /** The second rider's genuine links by purpose. */
  readonly links: ReadonlyMap<string, string>;
  /** What is the first rider's. */
  readonly theirs: Readonly<Record<'unit' | 'bike' | 'ride' | 'question', string>>;
  /** Goes on by an hour: who tries much is held up for a while. */
  later(): void;
}

async function send(world: RiderWorld, home: string, name: string, bytes: Uint8Array): Promise<void> {
  const body = new FormData();
  body.append('files', new File([new Uint8Array(bytes)], name));
  const answer = await world.app.request(`${new URL(home).pathname}/files`, { method: 'POST', body });
  expect(answer.status).toBe(303);
}

const UNTIMED = textBytes(
  gpxText([{ type: 'cycling', segments: [straightTrack(0, 900).map(({ time: _, ...point }) => point)] }]),
);

async function two(): Promise<Two> {
  const world = await RiderWorld.open();
  const first = linksOf(await world.reminderTo('r1@example.org'));
  const links = linksOf(await world.reminderTo('r2@example.org'));
  const second = await world.flow.id('rider', 'r2');
  await world.store.read(async (tx) => {
    const made = { publicUrl: 'https://x.example', seal: SEAL, isOneClick: false };
    const contact = (await tx.contacts.find(second))!;
    const maker = new LinkMaker(made, tx.workshopId, contact, instant(Date.parse(world.now)));
    for (const purpose of ['bike', 'address'] as const) links.set(purpose, maker.own(purpose));
  });
  const bike = await world.flow.id('bike', 'b1');
  await send(world, first.get('page')!, 'secret-1.fit', rideFile('2026-06-05T08:00:00Z', 61));
  await send(world, first.get('page')!, 'secret-2.gpx', UNTIMED);
  const riderId = await world.flow.id('rider', 'r1');
  const rides = await world.store.read((tx) => allRides(tx));
  const own = rides.filter((ride) => ride.riderId === riderId || ride.bikeId === bike);
  const ride = own.find(({ question, source }) => question === null && source === 'recorded')!.id;
  const question = own.find((one) => one.question !== null)!.id;
  let now = Date.parse(world.now);
  return {
    world,
    links,
    theirs: { unit: 'F-1', bike, ride, question },
    later: () => {
      now += HOUR_MS;
      world.now = new Date(now).toISOString();
    },
  };
}

const tokenOf = (url: string): string => new URL(url).pathname.split('/')[3]!;

/** Names and addresses that only the first rider may see. */
const SECRETS = ['Moss Hopper', 'Second bike', 'Rider 1', 'r1@example.org', '555 0101', 'secret-'];

/** What an answer says, but for what was asked. */
async function told(response: Response, asked: readonly string[]): Promise<string> {
  const text = `${response.status} ${response.headers.get('location')} ${await response.text()}`;
  for (const secret of SECRETS) expect(text).not.toContain(secret);
  return asked.reduce(
    (left, one) => left.replaceAll(encodeURIComponent(one), '*').replaceAll(one, '*'),
    text,
  );
}

/** The worker is the same for everybody, and holds nothing of anybody. */
const routesOf = ({ app }: RiderWorld) =>
  app.routes.filter(
    ({ method, path }) => path.startsWith('/r/') && method !== 'ALL' && path !== '/r/own/worker.js',
  );

describe('with another rider’s genuine link', () => {
  it('every page and form about a unit answers for a stranger’s unit as for one that there is not', async () => {
    const { world, links, theirs, later } = await two();
    const facts = await world.facts();
    const mails = (await world.mails()).length;
    const about = routesOf(world).filter(({ path }) => path.includes(':tag'));
    expect(about.length).toBeGreaterThan(8);
    for (const { method, path } of about) {
      for (const kind of ['lower-leg', 'polish']) {
        later();
        const ask = async (tag: string): Promise<string> => {
          const address = `https://x.example${path}`
            .replace(':token', tokenOf(links.get('page')!))
            .replace(':tag', tag)
            .replace(':kind', kind);
          const fields = { day: '2026-06-16', on: '2026-06-01', until: '2026-07-01', say: 'sold' };
          return told(method === 'GET' ? await world.get(address) : await world.post(address, fields), [tag]);
        };
        expect(await ask(theirs.unit), `${method} ${path}`).toBe(await ask('F-9999'));
      }
    }
    expect(await world.facts()).toBe(facts);
    expect((await world.mails()).length).toBe(mails);
    expect(await world.lead('F-1')).toMatchObject({ state: 'open' });
  });

  it('no form takes a ride, a question or a bike of somebody else’s, nor says whether there is one', async () => {
    const { world, links, theirs, later } = await two();
    const ownBike = await world.flow.id('bike', 'b2');
    const facts = await world.facts();
    const unknown = '3fzz9unknown0000';
    const home = links.get('page')!;
    const tries = [
      ...['yes', 'no', 'bike', 'move', 'on', 'on-minutes', 'nonsense'].flatMap((say) =>
        [theirs.ride, theirs.question].map((ride) => ({ to: `${home}/rides`, say, ride, bike: ownBike })),
      ),
      { to: links.get('bike')!, ride: theirs.ride, bike: ownBike },
      { to: links.get('bike')!, ride: theirs.question, bike: ownBike },
      { to: links.get('bike')!, ride: unknown, bike: theirs.bike },
      { to: `${home}/rides`, say: 'move', ride: unknown, bike: theirs.bike },
    ];
    for (const { to, ...rest } of tries) {
      later();
      const fields = { ...rest, on: '2026-06-01', at: '10:00', minutes: '60' };
      const asUnknown = {
        ...fields,
        ride: unknown,
        bike: fields.bike === theirs.bike ? unknown : fields.bike,
      };
      const asked = [unknown, theirs.ride, theirs.question, theirs.bike];
      expect(await told(await world.post(to, fields), asked), JSON.stringify(rest)).toBe(
        await told(await world.post(to, asUnknown), asked),
      );
    }
    expect(await world.facts()).toBe(facts);
  });

  it('a link opens the pages of its own purpose alone, and one put together from two links none', async () => {
    const { world, links, later } = await two();
    const first = linksOf(await world.reminderTo('r1@example.org'));
    const nothing = await told(await world.get('https://x.example/r/page/nothing'), []);
    let tried = 0;
    for (const { method, path } of routesOf(world)) {
      const purpose = path.split('/')[2]!;
      const mixed = [...links].map(([of, url]) => {
        const [mine, their] = [
          tokenOf(url).split('.'),
          tokenOf(first.get(of) ?? first.get('page')!).split('.'),
        ];
        return [...their.slice(0, -1), mine.at(-1)].join('.');
      });
      const foreign = [...links].filter(([of]) => of !== purpose).map(([, url]) => tokenOf(url));
      for (const token of [...mixed, ...foreign]) {
        later();
        const address = `https://x.example${path.replace(':token', token).replace(/:\w+/g, 'F-2')}`;
        const answer = method === 'GET' ? await world.get(address) : await world.post(address, {});
        expect(await told(answer, [token]), `${method} ${path}`).toBe(nothing);
        tried += 1;
      }
    }
    expect(tried).toBeGreaterThan(200);
  }, 60_000);
});
