/** A short run of `npm run fuzz`, and what longer ones have found. */
import { expect, it, onTestFinished } from 'vitest';
import { SOUND_DOCUMENT } from './documentInput.js';
import { KINDS, type Kind, Trial } from './tryInput.js';

const INPUTS = 1500;
const MOST_RSS_BYTES = 800_000_000;

function trial(): Trial {
  const made = new Trial();
  onTestFinished(() => made.close());
  return made;
}

it('nearly sound files, archives, imports, forms and links are taken or refused in words, in little memory', async () => {
  const tried = trial();
  const came = new Map<Kind, { yes: number; no: number }>(KINDS.map((kind) => [kind, { yes: 0, no: 0 }]));
  for (let index = 0; index < INPUTS; index += 1) {
    const outcome = await tried.try('short', index);
    came.get(outcome.kind)![outcome.came ? 'yes' : 'no'] += 1;
  }
  expect(process.memoryUsage.rss()).toBeLessThan(MOST_RSS_BYTES);
  // Inputs of which none comes through, or all do, would not lie at the edge.
  for (const kind of KINDS) expect([kind, came.get(kind)!.yes > 0]).toEqual([kind, true]);
  for (const kind of KINDS.filter((one) => one !== 'form'))
    expect([kind, came.get(kind)!.no > 0]).toEqual([kind, true]);
}, 120_000);

/** Each was thrown by a long run, and made again here by hand. */
const FOUND: Readonly<Record<string, (document: typeof SOUND_DOCUMENT) => void>> = {
  'a fitting from the last day that can be written': ({ fittings }) => {
    fittings[0]!.from = '9999-12-31';
    fittings[0]!.to = null;
  },
  'a fitting until the last day that can be written': ({ fittings }) => {
    fittings[0]!.to = '9999-12-31' as never;
  },
  'hours ridden on the last day that can be written': ({ hours }) => {
    hours[0]!.on = '9999-12-31';
  },
  'a race on the last day that can be written': ({ races }) => {
    races[0]!.on = '9999-12-31';
  },
};

it.each(Object.keys(FOUND))('found before: %s', async (name) => {
  const document = structuredClone(SOUND_DOCUMENT);
  FOUND[name]!(document);
  expect(typeof (await trial().document(JSON.stringify(document)))).toBe('boolean');
});
