/** The demo's story: an invented workshop, its riders, their bikes and units, dated back from today. */
import { Temporal } from 'temporal-polyfill';
import type { DoneBy, Limit, ServiceKind, State } from '../src/core/tokens.js';
import { day } from '../src/units.js';
import { hireForksOf } from './hireForks.js';
import type { ImportFile, ImportInterval, ImportService, ImportUnit } from './importFile.js';
import { oddFilesOf } from './oddFiles.js';
import { raceTeamOf, shelfOf } from './raceTeam.js';
import { regularsOf } from './regulars.js';
import { dayBefore, type PlannedRide, type RideFile, seasonOf, serviceDayFor } from './season.js';

/** What follows the import, once the rides are in: the commands `mark` and `bench`. */
export type Action =
  | {
      readonly does: 'mark';
      readonly unit: string;
      readonly mark: 'stop';
      readonly why: string;
      /** The after-crash list that leaves the mark where it is. */
      readonly looked?: {
        readonly findings: Readonly<Record<string, string>>;
        readonly result: 'repair';
        readonly by: string;
        readonly note: string;
      };
    }
  | { readonly does: 'bench'; readonly unit: string; readonly at: 'in' };

/** A state that the story is told for; `limit` where the story turns on it. */
interface Expected {
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly state: State;
  readonly limit?: Limit;
}

export interface Scenario {
  readonly document: ImportFile;
  readonly actions: readonly Action[];
  /** The service of C-0104, put right at the desk. */
  readonly misread: { readonly dayRead: string; readonly why: string };
  /** The service of F-0110 that is done on the day itself, as the technician logs it. */
  readonly doneToday: {
    readonly serviceKind: ServiceKind;
    readonly by: DoneBy;
    readonly findings: Readonly<Record<string, string>>;
    readonly note: string;
    readonly parts: readonly { readonly part: string; readonly count: number; readonly measure: 'pieces' }[];
    readonly technician: string;
  };
  readonly rides: readonly (RideFile & { readonly shows?: string })[];
  readonly expected: readonly Expected[];
}

const LOWER_LEG_H = 50;
const AIR_SLEEVE_H = 50;
const GRAVITY_LOWER_LEG_H = 20;
const WARRANTY_CEILING_H = 22;
const GRAVITY_FORK = 'Sample gravity fork G-180';

/** Returns the whole demo for a day: the same day always gives the same bytes. Shape: today is `YYYY-MM-DD`. */
export const makeScenario = (today: string): Scenario => {
  const season = seasonOf(today);
  const team = raceTeamOf(today);
  const hire = hireForksOf(today);
  const regulars = regularsOf(today);
  return {
    document: {
      ...PEOPLE,
      workshop: { ...PEOPLE.workshop, closedDays: [47, 48].map((days) => day(dayBefore(today, -days))) },
      ...shelfOf(today),
      fleets: [...team.fleets, ...hire.fleets],
      riders: [...PEOPLE.riders, ...regulars.riders],
      bikes: [...PEOPLE.bikes, ...team.bikes, ...hire.bikes, ...regulars.bikes],
      units: [...unitsOf(today), ...team.units, ...hire.units, ...regulars.units],
      fittings: [...fittingsOf(today), ...team.fittings, ...hire.fittings, ...regulars.fittings],
      services: [...servicesOf(today, season), ...team.services, ...hire.services, ...regulars.services],
      serviceKinds: [{ unitKind: 'coil-shock', name: 'spring-swap', benchMinutes: 20 }],
      intervals: [...INTERVALS, ...team.intervals],
      hours: [
        { bike: 'b9', on: dayBefore(today, 26), minutes: 150, ground: 'typical' },
        { bike: 'b9', on: dayBefore(today, 12), minutes: 90, ground: 'rough' },
        ...team.hours,
        ...hire.hours,
        ...regulars.hours,
      ],
      unrecorded: [
        {
          bike: 'b7',
          from: dayBefore(today, 120),
          to: null,
          share: 0.15,
          note: 'Rides home without the recorder',
        },
      ],
      // Records nothing, and is asked again by now.
      declared: [
        {
          bike: 'b12',
          hoursAWeek: 1.5,
          ground: 'typical',
          months: [3, 4, 5, 6, 7, 8, 9, 10],
          from: dayBefore(today, 150),
          to: null,
          saidOn: dayBefore(today, 100),
        },
      ],
      races: team.races,
    },
    actions: [
      { does: 'mark', unit: 'A-0106', mark: 'stop', why: 'Came down hard on it; the eyelet looks bent.' },
      {
        does: 'mark',
        unit: 'F-0204',
        mark: 'stop',
        why: 'Bent in practice, to be seen before it is fitted again.',
        looked: {
          findings: { outside: 'damaged', crown: 'quiet', axle: 'sound', arch: 'sound', fullTravel: 'short' },
          result: 'repair',
          by: 'pit',
          note: 'Does not go through its travel: to be opened.',
        },
      },
      { does: 'bench', unit: 'A-0107', at: 'in' },
    ],
    misread: { dayRead: dayBefore(today, 218), why: 'The job sheet says two days later.' },
    doneToday: {
      serviceKind: 'full',
      by: 'here',
      findings: {
        foamRings: 'dark',
        foamRingsNow: 'new',
        wipers: 'torn',
        wipersNow: 'new',
        oil: 'brown',
        water: 'some',
        bushings: 'none',
        stanchions: 'clean',
      },
      note: 'Some water below the wiper; told the rider to let it dry upright.',
      parts: [
        { part: 'foam ring', count: 2, measure: 'pieces' },
        { part: 'wiper seal', count: 2, measure: 'pieces' },
        { part: 'crush washer', count: 2, measure: 'pieces' },
      ],
      technician: 'Nell Tamsin-Grit',
    },
    rides: [...season, ...oddFilesOf(today, season)],
    expected: EXPECTED,
  };
};

const rider = (id: string, name: string, language: 'en' | 'pt') => ({
  id,
  name,
  email: `${id}@example.org`,
  phone: `000 010${id.slice(1)}`,
  language,
  addressConfirmed: true,
});

const PEOPLE = {
  workshop: {
    id: 'w1',
    name: 'Brindlemoth Suspension Bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['tue', 'wed', 'thu', 'fri', 'sat'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
    phone: '000 0100',
    address: 'Sample Lane 3, Invented Town',
    openingHours: 'Tuesday to Saturday, 10 to 18',
    closedDays: [],
    people: [
      { name: 'Wilma', days: ['tue', 'wed', 'thu', 'fri', 'sat'], minutesADay: 300, off: [] },
      { name: 'Bram', days: ['tue', 'wed', 'thu', 'fri', 'sat'], minutesADay: 180, off: [] },
    ],
  },
  riders: [
    rider('r1', 'Pia Lanternby', 'en'),
    rider('r2', 'Otto Fennimoss', 'en'),
    rider('r3', 'Rita Folhaverde', 'pt'),
    rider('r4', 'Marlo Quickthistle', 'en'),
    rider('r5', 'Joss Umberlake', 'en'),
    rider('r6', 'Wren Pebblewick', 'en'),
  ],
  bikes: [
    { id: 'b1', rider: 'r1', fleet: null, name: 'Green trail bike', type: 'trail' },
    { id: 'b2', rider: 'r1', fleet: null, name: 'Road bike, no suspension', type: 'road' },
    { id: 'b3', rider: 'r2', fleet: null, name: 'Gravel bike with the short fork', type: 'gravel' },
    { id: 'b4', rider: 'r3', fleet: null, name: 'Bicicleta azul', type: 'trail' },
    { id: 'b5', rider: 'r3', fleet: null, name: 'Bicicleta grande', type: 'gravity' },
    { id: 'b6', rider: 'r4', fleet: null, name: 'Long black bike', type: 'gravity' },
    { id: 'b7', rider: 'r5', fleet: null, name: 'Old red bike', type: 'trail' },
    { id: 'b8', rider: 'r6', fleet: null, name: 'Second-hand bike', type: 'trail' },
    { id: 'b9', rider: null, fleet: 't2', name: 'Hire bike 3', type: 'trail' },
  ],
} as const satisfies Partial<ImportFile>;

const unitsOf = (today: string): ImportUnit[] => {
  const unit = (
    tag: string,
    model: string,
    history: ImportUnit['history'] = 'new',
    warrantyEnd: string | null = null,
  ): ImportUnit => ({
    tag,
    unitKind: tag.startsWith('F') ? 'fork' : tag.startsWith('A') ? 'air-shock' : 'coil-shock',
    model,
    serial: `INVENTED-${tag}`,
    warrantyEnd,
    factor: 1,
    history,
  });
  return [
    unit('F-0101', 'Sample trail fork T-150'),
    unit('A-0101', 'Sample air shock A-55'),
    unit('F-0102', 'Sample gravel fork R-40', 'new', dayBefore(today, -200)),
    unit('F-0103', 'Sample trail fork T-150'),
    unit('A-0103', 'Sample air shock A-55'),
    unit('F-0104', 'Sample gravity fork G-200'),
    unit('C-0104', 'Sample coil shock C-75'),
    unit('F-0105', GRAVITY_FORK),
    unit('C-0105', 'Sample coil shock C-75'),
    unit('F-0106', 'Sample trail fork T-130'),
    unit('A-0106', 'Sample air shock A-50'),
    unit('F-0107', 'Sample trail fork T-140', 'unknown'),
    unit('A-0107', 'Sample air shock A-50', {
      terrainHours: 12.5,
      movingHours: 14,
      asOf: dayBefore(today, 200),
    }),
    unit('F-0108', 'Sample trail fork T-130'),
    unit('F-0109', 'Sample trail fork T-140'),
  ];
};

const fittingsOf = (today: string): ImportFile['fittings'] => {
  const fitted = (unit: string, bike: string, daysAgo: number, untilDaysAgo: number | null = null) => ({
    unit,
    bike,
    from: dayBefore(today, daysAgo),
    to: untilDaysAgo === null ? null : dayBefore(today, untilDaysAgo),
  });
  return [
    // F-0109 made room for F-0101 and lies boxed since.
    fitted('F-0109', 'b1', 900, 210),
    fitted('F-0101', 'b1', 210),
    fitted('A-0101', 'b1', 900),
    fitted('F-0102', 'b3', 500),
    fitted('F-0103', 'b4', 500),
    fitted('A-0103', 'b4', 500),
    fitted('F-0104', 'b5', 300),
    fitted('C-0104', 'b5', 300),
    fitted('F-0105', 'b6', 700),
    fitted('C-0105', 'b6', 700),
    fitted('F-0106', 'b7', 1200),
    fitted('A-0106', 'b7', 1200),
    fitted('F-0107', 'b8', 200),
    fitted('A-0107', 'b8', 200),
    fitted('F-0108', 'b9', 300),
  ];
};

const INCLUDED: Readonly<Record<string, readonly ServiceKind[]>> = {
  'F full': ['full', 'damper', 'air-spring', 'lower-leg'],
  'A full': ['full', 'air-sleeve', 'bushings'],
  'C full': ['full', 'bushings'],
};

const serviced = (
  unit: string,
  serviceKind: ServiceKind,
  on: string,
  foamRings?: 'pale' | 'honey' | 'dark',
  by: DoneBy = 'here',
): ImportService => ({
  unit,
  serviceKind,
  on,
  restarts: INCLUDED[`${unit[0]} ${serviceKind}`] ?? [serviceKind],
  by,
  ...(foamRings === undefined
    ? {}
    : { findings: { foamRings, foamRingsNow: foamRings === 'pale' ? 'put-back' : 'new' } }),
});

/** Past services: those a state turns on are placed by the rides since, the others stand well inside their interval. */
const servicesOf = (today: string, season: readonly PlannedRide[]): ImportService[] => {
  const ago = (days: number): string => dayBefore(today, days);
  const monthsAgo = (months: number, days: number): string =>
    Temporal.PlainDate.from(today).subtract({ months }).subtract({ days }).toString();
  const since = (bike: string, hours: number, of: 'terrainHours' | 'movingHours' = 'terrainHours'): string =>
    serviceDayFor(
      today,
      season.filter((ride) => ride.bike === bike),
      (ride) => ride[of],
      hours,
    );
  return [
    serviced('A-0101', 'full', monthsAgo(12, -9)),
    serviced('F-0102', 'full', ago(250), 'pale'),
    serviced('F-0102', 'lower-leg', since('b3', 1.1 * WARRANTY_CEILING_H, 'movingHours'), 'honey'),
    serviced('F-0103', 'full', ago(200), 'honey'),
    serviced('F-0103', 'lower-leg', since('b4', 0.94 * LOWER_LEG_H), 'dark'),
    serviced('A-0103', 'full', ago(200)),
    serviced('A-0103', 'air-sleeve', since('b4', 1.1 * AIR_SLEEVE_H)),
    serviced('F-0104', 'lower-leg', ago(62), 'pale'),
    serviced('C-0104', 'full', ago(220)),
    serviced('F-0105', 'full', ago(200), 'dark'),
    serviced('F-0105', 'lower-leg', since('b6', 1.45 * GRAVITY_LOWER_LEG_H), 'dark'),
    serviced('C-0105', 'full', ago(200)),
    serviced('C-0105', 'bushings', since('b6', 12), undefined, 'another-workshop'),
    serviced('F-0106', 'full', monthsAgo(16, 0), 'dark'),
    serviced('A-0106', 'full', ago(150)),
    serviced('F-0109', 'full', monthsAgo(13, 10), 'honey'),
  ];
};

const rule = (
  serviceKind: ServiceKind,
  limits: { readonly terrainHours: number; readonly months: number; readonly movingHoursCeiling: number },
  scope: Partial<ImportInterval['scope']> = {},
): ImportInterval => ({
  unitKind: 'fork',
  serviceKind,
  scope: { fleet: null, model: null, unit: null, ...scope },
  ...limits,
});

/** Invented: a workshop's own rule, one for a hard-worked model, one for a unit under warranty. */
const INTERVALS: readonly ImportInterval[] = [
  rule('lower-leg', { terrainHours: LOWER_LEG_H, months: 12, movingHoursCeiling: 75 }),
  rule(
    'lower-leg',
    { terrainHours: GRAVITY_LOWER_LEG_H, months: 12, movingHoursCeiling: 30 },
    { model: GRAVITY_FORK },
  ),
  rule(
    'lower-leg',
    { terrainHours: 40, months: 12, movingHoursCeiling: WARRANTY_CEILING_H },
    { unit: 'F-0102' },
  ),
];

const EXPECTED: readonly Expected[] = [
  { unit: 'F-0101', serviceKind: 'lower-leg', state: 'in-time' },
  { unit: 'A-0101', serviceKind: 'air-sleeve', state: 'coming-up', limit: 'months' },
  { unit: 'F-0102', serviceKind: 'lower-leg', state: 'due', limit: 'moving-hours' },
  { unit: 'F-0103', serviceKind: 'lower-leg', state: 'coming-up', limit: 'terrain-hours' },
  { unit: 'A-0103', serviceKind: 'air-sleeve', state: 'due', limit: 'terrain-hours' },
  { unit: 'F-0104', serviceKind: 'lower-leg', state: 'in-time' },
  { unit: 'C-0104', serviceKind: 'bushings', state: 'in-time' },
  { unit: 'F-0105', serviceKind: 'lower-leg', state: 'over-interval', limit: 'terrain-hours' },
  { unit: 'F-0106', serviceKind: 'lower-leg', state: 'over-interval', limit: 'months' },
  { unit: 'A-0106', serviceKind: 'air-sleeve', state: 'stop-riding' },
  { unit: 'F-0107', serviceKind: 'lower-leg', state: 'history-unknown' },
  { unit: 'A-0107', serviceKind: 'air-sleeve', state: 'on-the-bench' },
  { unit: 'F-0108', serviceKind: 'lower-leg', state: 'in-time' },
  { unit: 'F-0109', serviceKind: 'lower-leg', state: 'due', limit: 'months' },
];
