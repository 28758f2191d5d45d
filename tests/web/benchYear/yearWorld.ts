/** Invented forks that came late before reminders began, and in time since. */
import { addDays } from '../../../src/core/days/calendar.js';
import { planDocument } from '../planWorld.js';
import { DOCUMENT, TODAY } from '../webWorld.js';

export const ago = (days: number): typeof TODAY => addDays(TODAY, -days);
const BEGUN = ago(400);

interface Look {
  readonly on: typeof TODAY;
  readonly hours: number;
  readonly rings: string;
}

/** A fork that is ridden so many hours in the days before each service. */
export function fork(i: number, looks: readonly Look[], history = 'new') {
  const tag = `F-8${String(i).padStart(2, '0')}`;
  const bike = `y${i}`;
  return {
    bikes: [{ id: bike, rider: 'r2', name: `Year bike ${i}`, type: 'trail' }],
    units: [{ tag, unitKind: 'fork', model: 'Sample fork Y', history }],
    fittings: [{ unit: tag, bike, from: ago(1000), to: null }],
    hours: looks.flatMap(({ on, hours }) =>
      Array.from({ length: Math.ceil(hours / 20) }, (_, day) => ({
        bike,
        on: addDays(on, -5 - day),
        minutes: (hours / Math.ceil(hours / 20)) * 60,
        ground: 'typical',
      })),
    ),
    services: looks.map(({ on, rings }) => ({
      unit: tag,
      serviceKind: 'lower-leg',
      on,
      findings: { foamRings: rings, foamRingsNow: 'new' },
    })),
  };
}

type Fork = ReturnType<typeof fork>;

export function yearDocument(forks: readonly Fork[], remindersFrom: string | null = BEGUN) {
  const all = <K extends keyof Fork>(key: K) => forks.flatMap((one) => one[key] as unknown[]);
  const base = planDocument(DOCUMENT);
  const list = (key: string): unknown[] => ((base as Record<string, unknown>)[key] as unknown[]) ?? [];
  return {
    ...base,
    workshop: { ...DOCUMENT.workshop, remindersFrom },
    ...Object.fromEntries(
      (['bikes', 'units', 'fittings', 'hours', 'services'] as const).map((key) => [
        key,
        [...list(key), ...all(key)],
      ]),
    ),
  };
}

/** Of 24 forks most were dark and over before; few are since. */
export const HELPED = Array.from({ length: 24 }, (_, i) =>
  fork(i, [
    { on: ago(600), hours: i < 18 ? 70 : 40, rings: i < 18 ? 'dark' : 'honey' },
    { on: ago(200 + i), hours: i < 4 ? 70 : 45, rings: i < 4 ? 'dark' : 'pale' },
  ]),
);
