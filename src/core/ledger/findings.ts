/**
 * What is looked at on the bench, step by step: the one list that the form, the card and the book are made from.
 * Source: common practice; the maker's manual comes first.
 */

import { SECOND_LOOKS, type SecondLook } from '../tokens.js';
import { ALL_BUILDS, type Build, buildOf, FORKS, SHOCKS, WITH_AIR, WITH_COIL } from './build.js';
import type { Findings } from './facts.js';
import type { UnitSort } from './serviceKinds.js';

/** The order of the work. */
export const STEPS = ['before', 'inside', 'after'] as const;
export type FindingStep = (typeof STEPS)[number];

interface Line {
  readonly step: FindingStep;
  readonly of: readonly Build[];
  /** The words to choose from; `tick`: done or nothing said; `text`: as somebody types it. */
  readonly how: readonly string[] | 'tick' | 'text';
}

/** Keeps the words as they are written, so that each language has to name every one. */
const line =
  (step: FindingStep) =>
  <const How extends Line['how']>(of: readonly Build[], how: How) => ({ step, of, how });
const before = line('before');
const inside = line('inside');
const after = (of: readonly Build[]) => line('after')(of, 'tick');

/** How foam rings look; a fixed list, because the share gone dark is reckoned from it. */
export const FOAM_RINGS = ['pale', 'honey', 'dark'] as const;
/** What became of rings and wipers; a fixed list, because their age is reckoned from it. */
export const NOW = ['put-back', 'new'] as const;
/** What a tick is kept as. */
export const DONE = 'done';

/** A line a look, in the order of the work. */
const LINES = {
  setUpPressure: before(WITH_AIR, 'text'),
  setUpSpacers: before(WITH_AIR, 'text'),
  setUpSpring: before(WITH_COIL, 'text'),
  setUpPreload: before(WITH_COIL, 'text'),
  setUpRebound: before(ALL_BUILDS, 'text'),
  setUpCompression: before(ALL_BUILDS, 'text'),
  outside: before(ALL_BUILDS, ['sound', 'dirty', 'damaged']),
  crown: before(FORKS, ['quiet', 'creaks', 'loose', 'cracked']),
  axle: before(FORKS, ['sound', 'damaged', 'cracked']),
  arch: before(FORKS, ['sound', 'cracked']),
  eyelets: before(SHOCKS, ['tight', 'play', 'cracked']),
  bushings: before(ALL_BUILDS, ['none', 'some', 'much']),
  fullTravel: before(ALL_BUILDS, ['reached', 'short']),
  extends: before(WITH_AIR, ['extends', 'stays-compressed']),
  pressureOut: before(WITH_AIR, 'tick'),
  springOff: before(WITH_COIL, 'tick'),

  foamRings: inside(FORKS, FOAM_RINGS),
  foamRingsNow: inside(FORKS, NOW),
  wipers: inside(ALL_BUILDS, ['good', 'torn', 'new']),
  wipersNow: inside(ALL_BUILDS, NOW),
  oil: inside(ALL_BUILDS, ['clear', 'brown', 'milky', 'metallic', 'little']),
  oilDamperSide: inside(FORKS, ['clear', 'brown', 'milky', 'metallic', 'little']),
  water: inside(ALL_BUILDS, ['none', 'some']),
  stanchions: inside(FORKS, ['clean', 'scratched', 'coating-through']),
  shaft: inside(SHOCKS, ['clean', 'scratched', 'coating-through']),
  rods: inside(FORKS, ['straight', 'scratched', 'bent']),
  damper: inside(ALL_BUILDS, [
    'smooth',
    'noisy',
    'notchy',
    'leaks',
    'loses-damping',
    'air-in-oil',
    'adjuster-dead',
  ]),
  airSpring: inside(WITH_AIR, ['holds', 'loses-air', 'notchy', 'stuck-down', 'oil-in-chamber']),
  coilSpring: inside(WITH_COIL, ['good', 'tired']),
  studs: inside(FORKS, ['sound', 'damaged']),
  bore: inside([...FORKS, 'air-shock'], ['clean', 'scored']),

  footNuts: after(FORKS),
  mounts: after(SHOCKS),
  reboundTurns: after(ALL_BUILDS),
  valve: after(WITH_AIR),
  travelRing: after(ALL_BUILDS),
  wholeStroke: after(ALL_BUILDS),
  holdsAir: after(WITH_AIR),
  setUpRestored: after(ALL_BUILDS),
  caliper: after(FORKS),
  axleAndStem: after(FORKS),
  brakesClean: after(FORKS),
  leaks: line('after')(ALL_BUILDS, ['none', 'weeps', 'runs']),
  secondOil: line('after')(ALL_BUILDS, 'text'),
  secondTorques: line('after')(ALL_BUILDS, 'text'),
  secondPressure: line('after')(WITH_AIR, 'text'),
} as const satisfies Readonly<Record<string, Line>>;

export type FindingName = keyof typeof LINES;
export const FINDING_NAMES = Object.keys(LINES) as readonly FindingName[];

/** Whether a look is kept as somebody typed it. */
export const isTypedLook = (name: string): boolean =>
  (LINES as Readonly<Record<string, Line>>)[name]?.how === 'text';

/** Words of books from before that are called otherwise now. */
const FORMER: Readonly<Partial<Record<FindingName, Readonly<Record<string, string>>>>> = {
  airSpring: { 'loses air': 'loses-air' },
};

type WordsOf<N extends FindingName> = (typeof LINES)[N]['how'] extends readonly (infer W)[]
  ? W
  : (typeof LINES)[N]['how'] extends 'tick'
    ? typeof DONE
    : never;
/** Words that older books may hold beside those of today. */
interface FormerWords {
  readonly stanchions: 'worn';
  readonly shaft: 'worn';
}
/** What a language names of each look; one that lacks a word does not compile. */
export type LookWords = {
  readonly [N in FindingName]: Readonly<
    Record<(WordsOf<N> & string) | (N extends keyof FormerWords ? FormerWords[N] : never), string>
  >;
};

/** Shocks had stanchions in books from before. */
const FORMER_NAMES: Readonly<Partial<Record<Build, readonly FindingName[]>>> = {
  'air-shock': ['stanchions'],
  'coil-shock': ['stanchions'],
};

/** One look of a step, as form and card show it. */
export interface LookField {
  readonly name: FindingName;
  readonly step: FindingStep;
  readonly how: 'choice' | 'tick' | 'text';
  /** What may be chosen; of a tick the one word that it is kept as; none where it is typed. */
  readonly looks: readonly string[];
}

const fieldOf = (name: FindingName): LookField => {
  const { step, how }: Line = LINES[name];
  if (how === 'tick') return { name, step, how, looks: [DONE] };
  return how === 'text' ? { name, step, how, looks: [] } : { name, step, how: 'choice', looks: how };
};

const namesOf = (build: Build): FindingName[] =>
  FINDING_NAMES.filter((name) => (LINES[name] as Line).of.includes(build));

/** Where each second look is kept: the name of who had it. */
export const SECOND_LOOK_NAMES = {
  oil: 'secondOil',
  torques: 'secondTorques',
  pressure: 'secondPressure',
} as const satisfies Readonly<Record<SecondLook, FindingName>>;

/** Whoever does a job at home is asked it afterwards; the bench has lines of its own for it. */
export const ASKED_AT_HOME = 'leaks' satisfies FindingName;

/** Returns all that is looked at on such a unit, in the order of the work; second looks as far as they are asked for. */
export function lookFields(sort: UnitSort, second: readonly SecondLook[] = []): LookField[] {
  const left: readonly string[] = [
    ...SECOND_LOOKS.filter((one) => !second.includes(one)).map((one) => SECOND_LOOK_NAMES[one]),
    ASKED_AT_HOME,
  ];
  return namesOf(buildOf(sort))
    .filter((name) => !left.includes(name))
    .map(fieldOf);
}

/** Returns the word of today for a stored one. */
export function lookNow(name: FindingName, stored: string): string {
  const former = FORMER[name] ?? {};
  return Object.hasOwn(former, stored) ? former[stored]! : stored;
}

/** Returns what is wrong with findings for such a unit, or null. What was seen may be any word but where it is counted. */
export function findingsFault(sort: UnitSort, findings: Findings): FindingsFault | null {
  const build = buildOf(sort);
  const names = namesOf(build);
  const known: readonly string[] = [...names, ...(FORMER_NAMES[build] ?? [])];
  const unknown = Object.keys(findings).filter((name) => !known.includes(name));
  if (unknown.length > 0) return { code: 'no-finding', unknown, names };
  const { foamRings: said } = findings;
  if (said !== undefined && !FOAM_RINGS.some((look) => look === said))
    return { code: 'foam-rings', said, looks: FOAM_RINGS };
  for (const name of ['foamRingsNow', 'wipersNow'] as const) {
    const now = findings[name];
    if (now !== undefined && !NOW.some((word) => word === now))
      return { code: 'put-back-or-new', name, said: now };
  }
  return null;
}

export type FindingsFault =
  | { readonly code: 'no-finding'; readonly unknown: readonly string[]; readonly names: readonly string[] }
  | { readonly code: 'foam-rings'; readonly said: string; readonly looks: readonly string[] }
  | { readonly code: 'put-back-or-new'; readonly name: 'foamRingsNow' | 'wipersNow'; readonly said: string };
