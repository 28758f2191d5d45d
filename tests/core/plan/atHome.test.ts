import { describe, expect, test } from 'vitest';
import type { AtHomeFact, HomeJob } from '../../../src/core/ledger/facts.js';
import { type FindingName, lookFields } from '../../../src/core/ledger/findings.js';
import {
  findHomeJob,
  HOME_JOBS,
  homeMatters,
  homeQuestions,
  isToAsk,
  isToDo,
  restsUntil,
  stopLooks,
  stopWords,
} from '../../../src/core/plan/atHome.js';
import { HOME_STEPS, STATES } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';

const JOB: HomeJob = { unitKind: 'fork', serviceKind: 'lower-leg', model: 'Sample', stopHere: '' };
const FORK = { unitKind: 'fork', model: 'Sample' } as const;

test('a job is done at home where the workshop allows it for that model, and nobody has to see the unit first', () => {
  const states = STATES.filter((state) => findHomeJob([JOB], FORK, { serviceKind: 'lower-leg', state }));
  expect(states).toEqual(['over-interval', 'due', 'coming-up', 'in-time']);
  const due = { serviceKind: 'lower-leg', state: 'due' } as const;
  expect(findHomeJob([JOB], { ...FORK, model: 'Other' }, due)).toBeUndefined();
  expect(findHomeJob([JOB], { ...FORK, model: null }, due)).toBeUndefined();
  // A damper is opened at a bench, whatever stands in the settings. Common practice, no source.
  const damper = { ...JOB, serviceKind: 'damper' };
  expect(findHomeJob([damper], FORK, { ...due, serviceKind: 'damper' })).toBeUndefined();
  expect(HOME_JOBS.map(({ serviceKind }) => serviceKind)).toEqual(['lower-leg', 'air-sleeve']);
});

test('it rests for 21 days, and is then asked about once', () => {
  const home = { chosenOn: day('2026-06-10'), stillOn: null };
  expect(restsUntil(home)).toBe('2026-07-01');
  expect([isToAsk(home, day('2026-06-30')), isToAsk(home, day('2026-07-01'))]).toEqual([false, true]);
  expect(isToAsk({ ...home, stillOn: day('2026-07-02') }, day('2026-09-01'))).toBe(false);
});

test('what was chosen or picked up is to be done', () => {
  const steps = HOME_STEPS.filter((step) => isToDo({ step } as AtHomeFact));
  expect(steps).toEqual(['chosen', 'picked-up']);
});

describe.each([
  { unitKind: 'fork' },
  { unitKind: 'fork', spring: 'coil' },
  { unitKind: 'air-shock' },
] as const)('after a job at home on %o', (sort) => {
  const good = Object.fromEntries(homeQuestions(sort).map(({ name, looks }) => [name, looks[0]!]));

  test('four questions, whose first words are no matter for the workshop', () => {
    expect(homeQuestions(sort)).toHaveLength(4);
    expect(homeMatters(good)).toEqual({ stop: [], soon: [] });
  });

  test('rings gone dark are a late service, and nothing to call about; every other word but the first is', () => {
    for (const { name, looks } of homeQuestions(sort))
      for (const word of looks.slice(1)) {
        const { stop, soon } = homeMatters({ ...good, [name]: word });
        expect([...stop, ...soon].length, `${name} ${word}`).toBe(name === 'foamRings' ? 0 : 1);
      }
  });

  // The first of the two levels of caution. Common practice, no source.
  test('a crack, a bend, play, no air, no damping, a heavy leak and what stays compressed forbid riding', () => {
    const all = [...stopLooks(sort), ['damper', 'loses-damping'], ['leaks', 'runs']] as const;
    for (const [name, word] of all)
      expect(homeMatters({ ...good, [name]: word }).stop).toEqual([[name, word]]);
    const names = new Set(all.map(([name]) => name));
    const expected: FindingName[] =
      sort.unitKind === 'fork' ? ['crown', 'axle', 'arch', 'rods', 'bushings'] : ['eyelets', 'bushings'];
    for (const name of expected) expect(names).toContain(name);
    if (!('spring' in sort)) expect(all).toContainEqual(['extends', 'stays-compressed']);
  });

  test('what forbids riding stands at its look, and at no other', () => {
    for (const field of lookFields(sort))
      for (const word of stopWords(field)) {
        expect(field.looks).toContain(word);
        expect(homeMatters({ [field.name]: word }).stop).toHaveLength(1);
      }
  });
});

test('an air sleeve that still loses air after the job is no matter that the job put right', () => {
  expect(homeMatters({ airSpring: 'loses-air', extends: 'stays-compressed' }).stop).toHaveLength(2);
});
