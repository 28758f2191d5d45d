import { randomUUID } from 'node:crypto';
import type { Hono } from 'hono';
import { addAccount } from '../../src/flow/accounts.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { calendarFeed } from '../../src/mail/calendar.js';
import type { Role } from '../../src/ports/accounts.js';
import { sealWith } from '../../src/secret.js';
import { createApp } from '../../src/web/app.js';
import type { WebEnv } from '../../src/web/viewer.js';
import { filePorts } from '../fixtures/filePorts.js';
import { addRings, photosInMemory } from '../fixtures/photos.js';
import { planDocument } from './planWorld.js';
import { take } from './takeTrack.js';
import { Visitor } from './visitor.js';
import { cheapHash, DOCUMENT, NOW, PASSWORD, type WebWorld, webWorld } from './webWorld.js';

/** Invented: a workshop with two teams, each with a race bike, a spare and a race. */
export function teamDocument() {
  const base = planDocument(DOCUMENT);
  const fork = (tag: string) => ({ tag, unitKind: 'fork', model: 'Sample gravity fork', history: 'new' });
  return {
    ...base,
    fleets: [...base.fleets, { id: 't2', name: 'Team Quillmarsh' }],
    bikes: [...base.bikes, { id: 'y1', rider: null, fleet: 't2', name: 'Marsh bike y1', type: 'gravity' }],
    units: [...base.units, fork('F-0509'), fork('F-0601'), fork('F-0602')],
    fittings: [
      ...base.fittings,
      { unit: 'F-0509', bike: 'x1', from: '2026-01-01', to: '2026-01-05' },
      { unit: 'F-0601', bike: 'y1', from: '2026-01-01', to: null },
      { unit: 'F-0602', bike: 'y1', from: '2025-11-01', to: '2025-11-05' },
    ],
    hours: [...base.hours, { bike: 'y1', on: '2026-06-01', minutes: 120, ground: 'rough' }],
    services: [...base.services, { unit: 'F-0001', serviceKind: 'lower-leg', on: '2026-03-01' }],
    races: [
      ...base.races,
      {
        id: 'r-elm',
        name: 'Elmstead Sprint',
        on: '2026-06-28',
        bikes: ['y1'],
        practiceHours: 2,
        raceHours: 1,
      },
    ],
  };
}

export interface TeamWorld extends WebWorld {
  /** Signed in. */
  as(name: Name): Promise<Visitor>;
}

const ACCOUNTS = {
  tech: { role: 'technician', fleet: null },
  oak: { role: 'mechanic', fleet: 't1' },
  marsh: { role: 'mechanic', fleet: 't2' },
} as const satisfies Readonly<Record<string, { readonly role: Role; readonly fleet: string | null }>>;
type Name = keyof typeof ACCOUNTS | 'owner';

/** Returns the pages over two teams, with a lead that is open and a ride that waits in the tray. */
export async function teamWorld(language = 'en'): Promise<TeamWorld> {
  const workshop = { ...DOCUMENT.workshop, language };
  const world = await webWorld({ document: { ...teamDocument(), workshop } });
  await take(world, { name: 'who.gpx', type: 'cycling' });
  await queueNotices({ ...world.deps, ids: { uuid: randomUUID } });
  await world.store.write(async (tx) => {
    for (const [name, account] of Object.entries(ACCOUNTS))
      await addAccount(tx, { name, passwordHash: cheapHash(PASSWORD), ...account });
  });
  const rider = {
    ids: world.deps.ids,
    seal: sealWith(world.deps.secret),
    feed: calendarFeed,
    ...filePorts(),
  };
  const files = photosInMemory();
  await world.store.write(async (tx) => {
    for (const tag of ['F-0001', 'F-0501', 'F-0601']) await addRings(tx, files, tag, NOW);
  });
  const photos = { files, maker: { make: async () => 'busy' as const }, parts: rider.parts };
  const app: Hono<WebEnv> = createApp({ ...world.deps, rider, photos });
  return {
    ...world,
    app,
    as: async (name) => {
      const visitor = new Visitor(app);
      const { status } = await visitor.signIn(PASSWORD, name);
      if (status !== 303) throw new Error(`${name} could not sign in: ${status}`);
      return visitor;
    },
  };
}
