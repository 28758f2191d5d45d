/** To which day rides are known, and what is expected since: on the unit's page, its card and the rider's own pages. */
import { describe, expect, it } from 'vitest';
import { addDays } from '../../src/core/days/calendar.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { day } from '../../src/units.js';
import { knownText } from '../../src/web/show.js';
import { voiceOf } from '../../src/web/viewer.js';
import { rideFile } from '../flow/flowWorld.js';
import { DOCUMENT, linkOf, RiderWorld } from '../flow/riderWorld.js';
import { plain, signedIn } from './visitor.js';
import { cheapHash, NAME, PASSWORD } from './webWorld.js';

const LAST = day('2026-06-06');
/** The seed of what is drawn is the bike's id, which is another each time. */
const EXPECTED = {
  en: /Rides are known to 6 June; about [1-4] h since \(expected terrain hours, not counted\)\./,
  pt: /As voltas são conhecidas até 6 de junho; desde então cerca de [1-4] h \(horas de terreno esperadas, não contadas\)\./,
};

/** Rides an hour every other day and hands over on Saturdays; today is the Wednesday after. */
async function opened(language: 'en' | 'pt'): Promise<RiderWorld> {
  const riders = DOCUMENT.riders.map((rider) => ({ ...rider, language }));
  const world = await RiderWorld.open({ document: { ...DOCUMENT, riders } });
  for (let week = 9; week >= 0; week--)
    for (const ago of [6, 4, 2, 0]) {
      const saturday = addDays(LAST, -7 * week);
      world.now = `${saturday}T20:00:00Z`;
      const bytes = rideFile(`${addDays(saturday, -ago)}T10:00:00Z`, 60);
      await world.flow.take(bytes, { name: `${week} ${ago}.fit`, rider: 'r1', bike: 'b1' });
    }
  world.now = '2026-06-10T09:00:00Z';
  await refreshAllDue(world.deps);
  return world;
}

describe('rides that are known to a day', () => {
  it.each(['en', 'pt'] as const)(
    'stand with what is expected since on the rider’s own pages, in %s',
    async (language) => {
      const world = await opened(language);
      const home = linkOf(await world.reminderTo('r1@example.org'), 'page');
      expect(plain(await world.text(home))).toMatch(EXPECTED[language]);
      expect(plain(await world.text(`${home}/units/F-1`))).toMatch(EXPECTED[language]);
    },
  );

  it('stand on the unit’s page and on its card', async () => {
    const world = await opened('en');
    const account = { name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' as const };
    await world.store.write((tx) => tx.accounts.add(account));
    const visitor = await signedIn(world.app);
    expect(plain(await visitor.text('/units/F-1'))).toMatch(EXPECTED.en);
    expect(plain(await visitor.text('/units/F-1/card'))).toMatch(EXPECTED.en);
    // Nobody's files are waited for there.
    expect(plain(await visitor.text('/units/F-2'))).not.toContain('known to');
  });
});

describe('the line', () => {
  const today = day('2026-06-10');
  const line = (ago: number, expectedHours: number, language = 'en') =>
    plain(
      knownText({ knownUpTo: addDays(today, -ago), expectedHours }, voiceOf(language), today) ?? 'nothing',
    );

  it('is left out where every day is known, and says no hours where none are expected', () => {
    expect(line(0, 3)).toBe('nothing');
    expect(knownText({ knownUpTo: null, expectedHours: 3 }, voiceOf('en'), today)).toBeNull();
    expect(line(3, 0.04)).toBe('Rides are known to 7 June.');
    expect(line(3, 0, 'pt')).toBe('As voltas são conhecidas até 7 de junho.');
  });

  it('tells whole hours, and tenths below one', () => {
    expect(line(3, 2.4)).toContain('about 2 h since');
    expect(line(3, 0.62)).toContain('about 0.6 h since');
  });
});
