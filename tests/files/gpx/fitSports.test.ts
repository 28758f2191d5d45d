import { getFitSportId, getFitSportName } from 'fit-file-parser';
import { expect, test } from 'vitest';
import { isFitSport } from '../../../src/files/gpx/fitSports.js';

/** What the profile has among its sports and does not say what was done. */
const SAY_NOTHING = new Set(['generic', 'all', 'transition']);

// Source: the FIT SDK profile, as an independent package carries it.
test('every sport of the profile is one, and nothing else', () => {
  const names = Array.from({ length: 255 }, (_, id) => getFitSportName(id)).filter((name) => name !== null);
  expect(names.length).toBeGreaterThan(80);
  for (const name of names) expect(isFitSport(name), name).toBe(!SAY_NOTHING.has(name));
  for (const name of ['alpineskiing', 'alpine_skiing'])
    expect(isFitSport(name)).toBe(getFitSportId(name) !== null);
  for (const name of ['', 'ride', 'constructor', 'alpine skiing']) expect(isFitSport(name), name).toBe(false);
});
