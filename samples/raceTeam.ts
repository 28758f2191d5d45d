/** An invented race team: three bikes without riders of their own, a race in some three weeks, and the shelf. */
import { Temporal } from 'temporal-polyfill';
import type { ImportFile } from './importFile.js';
import { dayBefore } from './season.js';

/** Hours on each fork since its last full service, ridden in as many outings. */
const TEAM = [
  { unit: 'F-0201', bike: 'b21', name: 'Race bike 1', outings: 5, minutes: 150 },
  { unit: 'F-0202', bike: 'b22', name: 'Race bike 2', outings: 4, minutes: 120 },
  { unit: 'F-0203', bike: 'b23', name: 'Race bike 3', outings: 6, minutes: 170 },
] as const;
export const TEAM_LOWER_LEG_H = 20;

/** A spare in its box, which made room on bike 2. */
const SPARE = 'F-0204';
const SPARE_OFF_DAYS_AGO = 120;

/** Returns the first Saturday that is at least so many days off. */
const raceDay = (today: string, days: number): string => {
  const earliest = Temporal.PlainDate.from(today).add({ days });
  return earliest.add({ days: (13 - earliest.dayOfWeek) % 7 }).toString();
};

export const raceTeamOf = (
  today: string,
): Pick<
  ImportFile,
  'fleets' | 'bikes' | 'units' | 'fittings' | 'services' | 'intervals' | 'hours' | 'races'
> => ({
  fleets: [{ id: 't1', name: 'Team Thistlecrank' }],
  bikes: TEAM.map(({ bike, name }) => ({
    id: bike,
    rider: null,
    fleet: 't1',
    name,
    type: 'gravity' as const,
  })),
  units: [...TEAM.map(({ unit }) => unit), SPARE].map((tag) => ({
    tag,
    unitKind: 'fork' as const,
    model: 'Sample race fork D-203',
    serial: `INVENTED-${tag}`,
    warrantyEnd: null,
    factor: 1,
    history: 'new' as const,
  })),
  fittings: [
    { unit: SPARE, bike: 'b22', from: dayBefore(today, 300), to: dayBefore(today, SPARE_OFF_DAYS_AGO) },
    ...TEAM.map(({ unit, bike }) => ({
      unit,
      bike,
      from: dayBefore(today, bike === 'b22' ? SPARE_OFF_DAYS_AGO : 300),
      to: null,
    })),
  ],
  services: [...TEAM.map(({ unit }) => unit), SPARE].map((unit) => ({
    unit,
    serviceKind: 'full',
    on: dayBefore(today, 70),
    restarts: ['full', 'damper', 'air-spring', 'lower-leg'],
    by: 'here',
  })),
  intervals: [
    {
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      scope: { fleet: 't1', model: null, unit: null },
      terrainHours: TEAM_LOWER_LEG_H,
      months: 6,
      movingHoursCeiling: 30,
    },
  ],
  hours: TEAM.flatMap(({ bike, outings, minutes }) =>
    Array.from({ length: outings }, (_, i) => ({
      bike,
      on: dayBefore(today, 6 + 10 * i),
      minutes,
      ground: 'typical' as const,
    })),
  ),
  races: [
    {
      id: 'x1',
      name: 'Fernhollow Downhill',
      on: raceDay(today, 19),
      bikes: TEAM.map(({ bike }) => bike),
      practiceHours: 4,
      raceHours: 3.5,
    },
    {
      id: 'x2',
      name: 'Mossgate Stages',
      on: raceDay(today, 40),
      bikes: ['b21', 'b22'],
      practiceHours: 6,
      raceHours: 5,
    },
  ],
});

/** Invented: what the workshop typed of its parts, and what it counted. */
export const shelfOf = (today: string): Pick<ImportFile, 'parts' | 'shelf'> => ({
  parts: [
    {
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      model: null,
      part: 'foam ring',
      count: 2,
      measure: 'pieces',
    },
    {
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      model: null,
      part: 'wiper seal',
      count: 2,
      measure: 'pieces',
    },
    {
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      model: null,
      part: 'crush washer',
      count: 2,
      measure: 'pieces',
    },
  ],
  shelf: [
    { part: 'foam ring', count: 8, deliveryDays: 4, countedOn: dayBefore(today, 2) },
    { part: 'wiper seal', count: 12, deliveryDays: 10, countedOn: dayBefore(today, 2) },
    { part: 'crush washer', count: 60, deliveryDays: 4, countedOn: dayBefore(today, 2) },
  ],
});
