import { LinkMaker } from '../../src/flow/mail/links.js';
import { calendarFeed } from '../../src/mail/calendar.js';
import { sealWith } from '../../src/secret.js';
import { createApp } from '../../src/web/app.js';
import { filePorts } from '../fixtures/filePorts.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { takeFile } from '../web/takeTrack.js';
import { signedIn, type Visitor } from '../web/visitor.js';
import { NOW, TODAY, type WebWorld, webWorld } from '../web/webWorld.js';

/** Breaks out of text, of an attribute in either quotes, and of a comment, wherever it is not escaped. */
export const payload = (name: string): string => `"'><x-${name}-->`;

/** Whether a page lets a payload's element through. */
export const getsThrough = (text: string): string | undefined => /<x-[\w-]+/.exec(text)?.[0];

/** Names of the payloads that a page shows, escaped. */
export const shownIn = (text: string): string[] =>
  [...text.matchAll(/&lt;x-([\w]+)--/g)].map(([, name = '']) => name);

/** Every text that an import may hold, each a payload of its own name. */
const HOSTILE = {
  workshop: {
    id: 'w1',
    name: payload('workshop'),
    timeZone: 'Europe/Lisbon',
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
    phone: payload('workshopPhone'),
    address: payload('workshopAddress'),
    openingHours: payload('openingHours'),
  },
  fleets: [{ id: 't1', name: payload('fleet') }],
  riders: [
    {
      id: `r"'><x-riderId--`,
      name: payload('rider'),
      email: 'r1@example.org',
      phone: payload('riderPhone'),
      language: 'en',
      addressConfirmed: true,
    },
  ],
  bikes: [
    { id: `b"'><x-bikeId--`, rider: `r"'><x-riderId--`, fleet: 't1', name: payload('bike'), type: 'trail' },
    { id: 'b2', rider: null, fleet: 't1', name: payload('raceBike'), type: 'gravity' },
  ],
  serviceKinds: [{ unitKind: 'fork', name: `wash"'><x-serviceKind--`, terrainHours: 10, benchMinutes: 15 }],
  units: [
    {
      tag: `F"'><x-tag--`,
      unitKind: 'fork',
      model: payload('model'),
      serial: payload('serial'),
      history: { terrainHours: 60, movingHours: 60, asOf: '2026-06-01' },
      travelMm: 150,
      modelYear: 2024,
      spec: { [payload('specName')]: payload('specValue') },
    },
    { tag: 'F-2', unitKind: 'fork', model: payload('otherModel'), history: 'new' },
  ],
  fittings: [
    { unit: `F"'><x-tag--`, bike: `b"'><x-bikeId--`, from: '2026-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2026-01-01' },
  ],
  services: [
    {
      unit: `F"'><x-tag--`,
      serviceKind: 'lower-leg',
      on: '2026-02-01',
      findings: { oil: payload('finding') },
      note: payload('serviceNote'),
      technician: payload('technician'),
      price: payload('price'),
      parts: [{ part: payload('usedPart'), count: 2 }],
    },
  ],
  hours: [
    { bike: `b"'><x-bikeId--`, on: '2026-06-01', minutes: 60, ground: 'rough', note: payload('hoursNote') },
  ],
  races: [
    {
      id: `x"'><x-raceId--`,
      name: payload('race'),
      on: '2026-06-20',
      bikes: ['b2'],
      practiceHours: 4,
      raceHours: 3,
    },
  ],
  parts: [{ unitKind: 'fork', serviceKind: 'lower-leg', part: payload('part'), count: 2 }],
  shelf: [{ part: payload('part'), count: 1, deliveryDays: 5, countedOn: TODAY }],
};

/** Two tracks of one place and time by different people, and two that nobody knows the bike of, so that the tray asks. */
async function fillTray(world: WebWorld): Promise<void> {
  const track = (days: number, type: string) =>
    textBytes(gpxText([{ type, segments: [straightTrack(NOW - days * 86_400_000, 700)] }]));
  await takeFile(world, { name: `inner/${payload('fileName')}.gpx`, bytes: track(3, 'cycling') });
  await takeFile(world, {
    name: `${payload('otherFileName')}.gpx`,
    rider: `r"'><x-riderId--`,
    bytes: track(4, payload('trackType').replace(/[<>&"']/g, '')),
  });
}

export interface HostileWorld extends WebWorld {
  readonly visitor: Visitor;
  /** Addresses of the rider's pages, as they stand in mails. */
  readonly links: readonly string[];
}

/** Returns the pages over a workshop whose every text is hostile, signed in. */
export async function hostileWorld(): Promise<HostileWorld> {
  const world = await webWorld({ document: HOSTILE });
  await fillTray(world);
  const seal = sealWith(world.deps.secret);
  const app = createApp({
    ...world.deps,
    rider: { ids: { uuid: () => 'x' }, seal, feed: calendarFeed, ...filePorts() },
  });
  const links = await world.store.read(async (tx) => {
    const riderId = (await tx.handles.find('rider', `r"'><x-riderId--`))!;
    const unitId = (await tx.handles.find('unit', `F"'><x-tag--`))!;
    const maker = new LinkMaker(
      { publicUrl: '', seal, isOneClick: false },
      tx.workshopId,
      (await tx.contacts.find(riderId))!,
      NOW,
    );
    return [
      ...Object.values(maker.item(unitId, 'lower-leg')),
      maker.own('bike'),
      maker.own('stop'),
      maker.own('address'),
      maker.own('page'),
    ];
  });
  return { ...world, app, links, visitor: await signedIn(app) };
}
