/** Invented riders around whom the desk has something to do: booked, declined, done, withdrawn, not yet confirmed. */
import { Temporal } from 'temporal-polyfill';
import type { ImportFile } from './importFile.js';
import { dayBefore } from './season.js';

const RIDERS = [
  { id: 'r7', name: 'Ida Marrowfen', phone: '000 0107', addressConfirmed: true },
  { id: 'r8', name: 'Tilda Oatwhistle', phone: '000 0108', addressConfirmed: false },
  { id: 'r9', name: 'Bram Netherclover', phone: '000 0109', addressConfirmed: true },
] as const;

const BIKES = [
  { id: 'b10', rider: 'r7', name: 'Yellow trail bike', minutes: 110 },
  { id: 'b11', rider: 'r8', name: 'Bike with the bell', minutes: 70 },
  { id: 'b12', rider: 'r9', name: 'Quiet grey bike', minutes: 90 },
] as const;

/** Their last services: a year and some days ago, so that each falls due by its months. */
const UNITS = [
  { tag: 'F-0110', bike: 'b10', model: 'Sample trail fork T-150', monthsAgo: 12, daysMore: 6 },
  { tag: 'A-0110', bike: 'b10', model: 'Sample air shock A-55', monthsAgo: 12, daysMore: 3 },
  { tag: 'F-0111', bike: 'b11', model: 'Sample trail fork T-130', monthsAgo: 12, daysMore: 2 },
  { tag: 'F-0112', bike: 'b12', model: 'Sample trail fork T-140', monthsAgo: 12, daysMore: 12 },
] as const;

const isFork = (tag: string): boolean => tag.startsWith('F');

export const regularsOf = (
  today: string,
): Pick<ImportFile, 'riders' | 'bikes' | 'units' | 'fittings' | 'services' | 'hours'> => ({
  riders: RIDERS.map(({ id, ...rider }) => ({
    id,
    ...rider,
    email: `${id}@example.org`,
    language: 'en',
  })),
  bikes: BIKES.map(({ id, rider, name }) => ({ id, rider, fleet: null, name, type: 'trail' as const })),
  units: UNITS.map(({ tag, model }) => ({
    tag,
    unitKind: isFork(tag) ? ('fork' as const) : ('air-shock' as const),
    model,
    serial: `INVENTED-${tag}`,
    warrantyEnd: null,
    factor: 1,
    history: 'new' as const,
  })),
  fittings: UNITS.map(({ tag, bike }) => ({ unit: tag, bike, from: dayBefore(today, 800), to: null })),
  services: UNITS.map(({ tag, monthsAgo, daysMore }) => ({
    unit: tag,
    serviceKind: 'full',
    on: Temporal.PlainDate.from(today)
      .subtract({ months: monthsAgo })
      .subtract({ days: daysMore })
      .toString(),
    restarts: isFork(tag)
      ? ['full', 'damper', 'air-spring', 'lower-leg']
      : ['full', 'air-sleeve', 'bushings'],
    by: 'here',
  })),
  hours: BIKES.flatMap(({ id, minutes }) =>
    Array.from({ length: 12 }, (_, week) => ({
      bike: id,
      on: dayBefore(today, 4 + 7 * week),
      minutes: minutes - 10 * (week % 3),
      ground: 'typical' as const,
    })),
  ),
});
