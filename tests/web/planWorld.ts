import { addDays } from '../../src/core/days/calendar.js';
import { TODAY } from './webWorld.js';

const ago = (days: number): string => addDays(TODAY, -days);

/** Invented: forks looked into three times each, dark from some 50 hours on, on bikes that only roll to the workshop. */
function looks(forks: number) {
  const of = Array.from({ length: forks }, (_, i) => ({
    tag: `F-9${String(i).padStart(2, '0')}`,
    bike: `w${i}`,
    i,
  }));
  const every = [30, 40, 50, 60, 70];
  return {
    bikes: of.map(({ bike }) => ({ id: bike, rider: 'r2', name: `Worn bike ${bike}`, type: 'trail' })),
    units: of.map(({ tag }) => ({ tag, unitKind: 'fork', model: 'Sample fork W', history: 'new' })),
    fittings: of.map(({ tag, bike }) => ({ unit: tag, bike, from: ago(900), to: ago(100) })),
    hours: of.flatMap(({ bike, i }) =>
      [0, 1, 2].flatMap((look) => {
        const hours = every[(i + look) % every.length]!;
        const days = Math.ceil(hours / 20);
        return Array.from({ length: days }, (_, day) => ({
          bike,
          on: ago(850 - 200 * look - day),
          minutes: (hours / days) * 60,
          ground: 'typical',
        }));
      }),
    ),
    services: of.flatMap(({ tag, i }) =>
      [0, 1, 2].map((look) => {
        const hours = every[(i + look) % every.length]!;
        const isDark = hours > 50 || (hours === 50 && i % 2 === 0);
        const foamRings = isDark ? 'dark' : look === 0 ? 'pale' : 'honey';
        return {
          unit: tag,
          serviceKind: 'lower-leg',
          on: ago(750 - 200 * look),
          findings: { foamRings, foamRingsNow: 'new' },
        };
      }),
    ),
  };
}

const teamFork = (tag: string, bike: string, hours: number) => ({
  unit: { tag, unitKind: 'fork', model: 'Sample gravity fork', history: 'new' },
  bike: { id: bike, rider: null, fleet: 't1', name: `Race bike ${bike}`, type: 'gravity' },
  fitting: { unit: tag, bike, from: ago(120), to: null },
  ridden: { bike, on: ago(30), minutes: hours * 60, ground: 'typical' },
});
const TEAM = [teamFork('F-0501', 'x1', 12.5), teamFork('F-0502', 'x2', 8), teamFork('F-0503', 'x3', 24)];

/** Invented: a workshop with a race team, a shelf, and enough looks at foam rings to learn from. */
export function planDocument(base: { readonly [key: string]: unknown }, forks = 0) {
  const worn = looks(forks);
  const list = (key: string): unknown[] => (base[key] as unknown[] | undefined) ?? [];
  return {
    ...base,
    fleets: [{ id: 't1', name: 'Team Bramblewick' }],
    bikes: [...list('bikes'), ...TEAM.map((one) => one.bike), ...worn.bikes],
    units: [...list('units'), ...TEAM.map((one) => one.unit), ...worn.units],
    fittings: [...list('fittings'), ...TEAM.map((one) => one.fitting), ...worn.fittings],
    hours: [...list('hours'), ...TEAM.map((one) => one.ridden), ...worn.hours],
    services: worn.services,
    intervals: [
      {
        unitKind: 'fork',
        serviceKind: 'lower-leg',
        scope: { fleet: 't1' },
        terrainHours: 20,
        months: 12,
        movingHoursCeiling: null,
      },
    ],
    races: [
      {
        id: 'r-oak',
        name: 'Oakhollow Downhill',
        on: '2026-06-27',
        bikes: ['x1', 'x2', 'x3'],
        practiceHours: 4,
        raceHours: 3.5,
      },
    ],
    parts: [
      { unitKind: 'fork', serviceKind: 'lower-leg', part: 'foam ring', count: 2 },
      { unitKind: 'fork', serviceKind: 'lower-leg', part: 'crush washer', count: 2 },
    ],
    shelf: [
      { part: 'foam ring', count: 1, deliveryDays: 3, countedOn: ago(1) },
      { part: 'crush washer', count: 40, deliveryDays: 3, countedOn: ago(1) },
    ],
  };
}
