/** The same store as a former version left it on a server. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { checkLedger } from '../../src/flow/carry/checkLedger.js';
import { deriveAnew } from '../../src/flow/facts/deriveAnew.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { KEPT_NOW, keptDue, unpackKeptStore } from '../fixtures/keptStore.js';
import { newPlace } from '../fixtures/storePlace.js';
import { programFolder } from './server.js';

test('the first kept store on a server opens, is sound, and has its units', async () => {
  const place = await newPlace();
  execFileSync(
    join(programFolder()!, 'psql'),
    ['-q', '-v', 'ON_ERROR_STOP=1', '-d', place, '-f', unpackKeptStore('first').dump],
    { stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const store = await openStore(place, instant(Date.parse(KEPT_NOW)), { make: false });
  try {
    await deriveAnew({ store, clock: { now: () => instant(Date.parse(KEPT_NOW)) } });
    const found = await checkLedger(store);
    expect(found).toMatchObject({ ok: true, derivedDifferences: 0 });
    const tags = await store.read((tx) => tx.handles.names('unit'));
    expect([...tags.keys()]).toEqual(
      expect.arrayContaining([...new Set(keptDue('first').map(({ unit }) => unit))]),
    );
  } finally {
    await store.close();
  }
});
