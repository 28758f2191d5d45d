/**
 * What of the findings of a service still matters to whoever rides: the two levels of caution, without what that service
 * put right. Source: common practice; the maker's manual comes first.
 */
import type { Findings } from '../ledger/facts.js';
import { FINDING_NAMES, type FindingName } from '../ledger/findings.js';
import { HARM } from '../ledger/inspection.js';

/** A look and the word for it. */
export type SeenLook = readonly [name: FindingName, word: string];

export interface Matters {
  /** Not to be ridden before a qualified technician has seen it. */
  readonly stop: readonly SeenLook[];
  /** To be checked soon; in doubt not to be ridden. */
  readonly soon: readonly SeenLook[];
}

type LooksByName = Readonly<Partial<Record<FindingName, readonly string[]>>>;

/** Beside what forbids riding after a crash: a bend. */
export const STOP: LooksByName = { ...HARM, outside: [], rods: ['bent'], leaks: ['runs'] };

const SOON: LooksByName = {
  outside: ['damaged'],
  eyelets: ['play'],
  bushings: ['some'],
  stanchions: ['scratched', 'coating-through'],
  shaft: ['scratched', 'coating-through'],
  rods: ['scratched'],
  damper: ['noisy', 'notchy', 'air-in-oil', 'adjuster-dead'],
  airSpring: ['notchy', 'oil-in-chamber'],
  coilSpring: ['tired'],
  studs: ['damaged'],
  bore: ['scored'],
  leaks: ['weeps'],
};

/** What a service takes apart and puts right, of what is no crack and no bend. */
const RENEWED: Readonly<Record<string, readonly FindingName[]>> = {
  damper: ['damper'],
  'air-spring': ['airSpring', 'extends'],
  'air-sleeve': ['airSpring', 'extends'],
  bushings: ['bushings'],
  full: ['damper', 'airSpring', 'extends', 'bushings', 'fullTravel'],
};

/** Returns what still matters after some jobs of one stay, in the order of the work. */
export function mattersOf(findings: Findings, jobs: readonly string[]): Matters {
  const renewed = new Set(jobs.flatMap((job) => RENEWED[job] ?? []));
  const seenIn = (words: LooksByName): SeenLook[] =>
    FINDING_NAMES.flatMap((name): SeenLook[] => {
      const word = findings[name];
      const isMeant = word !== undefined && words[name]?.includes(word) === true && !renewed.has(name);
      return isMeant ? [[name, word]] : [];
    });
  return { stop: seenIn(STOP), soon: seenIn(SOON) };
}

/** What is typed of the set-up, ticked as done or looked at twice is no finding. */
const isLook = (name: FindingName, word: string): boolean =>
  word !== 'done' && !name.startsWith('setUp') && !name.startsWith('second');

/** Returns what else was seen, in the order of the work. */
export function seenBeside(findings: Findings, { stop, soon }: Matters): SeenLook[] {
  const told = new Set([...stop, ...soon].map(([name]) => name));
  return FINDING_NAMES.flatMap((name): SeenLook[] => {
    const word = findings[name];
    return word !== undefined && !told.has(name) && isLook(name, word) ? [[name, word]] : [];
  });
}

/** Returns the set-up as it was typed at a service. */
export const setUpIn = (findings: Findings): SeenLook[] =>
  FINDING_NAMES.flatMap((name): SeenLook[] => {
    const word = findings[name];
    return word !== undefined && word !== 'done' && name.startsWith('setUp') ? [[name, word]] : [];
  });
