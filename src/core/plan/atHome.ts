/** Jobs that riders do at home with the workshop's parts and advice: which, for how long they rest, what is asked after. */
import type { Day } from '../../units.js';
import { addDays } from '../days/calendar.js';
import type { AtHomeFact, Findings, HomeJob } from '../ledger/facts.js';
import { FINDING_NAMES, type FindingName, type LookField, lookFields } from '../ledger/findings.js';
import type { UnitSort } from '../ledger/serviceKinds.js';
import { type Matters, mattersOf, type SeenLook, STOP } from '../notices/matters.js';
import type { ServiceKind, State, UnitKind } from '../tokens.js';

/** Jobs that need no more than hand tools and the manual. Common practice, no source. */
export const HOME_JOBS = [
  { unitKind: 'fork', serviceKind: 'lower-leg' },
  { unitKind: 'air-shock', serviceKind: 'air-sleeve' },
] as const satisfies readonly { readonly unitKind: UnitKind; readonly serviceKind: ServiceKind }[];

/** *Default*: for so long no reminder says again that the job comes up; then the page asks once. */
const REST_DAYS = 21;

/** Returns the day on which the rest ends. */
export const restsUntil = ({ chosenOn }: Pick<AtHomeFact, 'chosenOn'>): Day => addDays(chosenOn, REST_DAYS);

/** Returns whether its rider is asked if it is still to come: once, after the rest. */
export const isToAsk = (body: Pick<AtHomeFact, 'chosenOn' | 'stillOn'>, today: Day): boolean =>
  body.stillOn === null && restsUntil(body) <= today;

/** Returns whether the job is still to be done at home. */
export const isToDo = ({ step }: Pick<AtHomeFact, 'step'>): boolean =>
  step === 'chosen' || step === 'picked-up';

/** A unit that must not be ridden, is at the workshop, or of which nobody knows anything is for the workshop to open. */
const STATES: readonly State[] = ['in-time', 'coming-up', 'due', 'over-interval'];

/** Returns what the workshop allows of a job on a unit at home; undefined where it does not. */
export const findHomeJob = (
  jobs: readonly HomeJob[],
  unit: { readonly unitKind: UnitKind; readonly model: string | null },
  { serviceKind, state }: { readonly serviceKind: ServiceKind; readonly state: State },
): HomeJob | undefined =>
  !STATES.includes(state) || !isHomeJob(unit.unitKind, serviceKind)
    ? undefined
    : jobs.find(
        (one) =>
          one.unitKind === unit.unitKind && one.serviceKind === serviceKind && one.model === unit.model,
      );

const isHomeJob = (unitKind: UnitKind, serviceKind: ServiceKind): boolean =>
  HOME_JOBS.some((one) => one.unitKind === unitKind && one.serviceKind === serviceKind);

/** What is asked after a job at home: each with the words to choose from, the good one first. */
export interface HomeQuestion {
  readonly name: FindingName;
  readonly looks: readonly string[];
}

const DAMPER: HomeQuestion = { name: 'damper', looks: ['smooth', 'noisy', 'notchy', 'loses-damping'] };
const LEAKS: HomeQuestion = { name: 'leaks', looks: ['none', 'weeps', 'runs'] };
const TUBE = ['clean', 'scratched', 'coating-through'];

/** Returns the four questions: rings or wipers, scratches, whether it moves smoothly, leaks. */
export const homeQuestions = ({ unitKind }: UnitSort): readonly HomeQuestion[] =>
  unitKind === 'fork'
    ? [
        { name: 'foamRings', looks: ['pale', 'honey', 'dark'] },
        { name: 'stanchions', looks: TUBE },
        DAMPER,
        LEAKS,
      ]
    : [{ name: 'wipers', looks: ['good', 'torn'] }, { name: 'shaft', looks: TUBE }, DAMPER, LEAKS];

/** Returns what else on such a unit forbids riding, beside what the four questions ask. */
export function stopLooks(sort: UnitSort): SeenLook[] {
  const asked = homeQuestions(sort).map(({ name }) => name);
  const has = new Set(lookFields(sort).map(({ name }) => name));
  return FINDING_NAMES.filter((name) => has.has(name) && !asked.includes(name)).flatMap((name) =>
    (STOP[name] ?? []).map((word): SeenLook => [name, word]),
  );
}

/** Returns what the workshop has to hear of after a job at home. The job is done: nothing seen was put right by it. */
export function homeMatters(findings: Findings): Matters {
  const { stop, soon } = mattersOf(findings, []);
  return { stop, soon: findings.wipers === 'torn' ? [['wipers', 'torn'], ...soon] : soon };
}

/** Returns for which words of a look whoever works at home stops and brings the unit. */
export const stopWords = ({ name, looks }: LookField): readonly string[] =>
  (STOP[name] ?? []).filter((word) => looks.includes(word));
