/** Which states go together: what has fallen due, what is wanted of the bench, what is told, what stands first. */
import { STATES, type State } from './tokens.js';

const among =
  <S extends State>(states: readonly S[]) =>
  (state: State): state is S =>
    (states as readonly State[]).includes(state);

/** A limit is reached. */
export const REACHED_STATES = ['over-interval', 'due'] as const;
export const isReached = among(REACHED_STATES);

/** A service is wanted; the most pressing first. */
export const WANTED_STATES = [...REACHED_STATES, 'coming-up'] as const;
export const isWanted = among(WANTED_STATES);

/** The states that somebody is told of; the most pressing first. */
export const TOLD_STATES = ['stop-riding', ...WANTED_STATES, 'history-unknown'] as const;
export type ToldState = (typeof TOLD_STATES)[number];
export const isTold = among(TOLD_STATES);
/** What reminders tell of: stop riding has a mail of its own. */
export type RemindedState = Exclude<ToldState, 'stop-riding'>;
/** Returns a told state's place, the most pressing first. */
export const toldRank = (state: ToldState): number => TOLD_STATES.indexOf(state);

/** What lists show before everything that has but a date, in the order of `STATES`. */
export const PRESSING_STATES: readonly State[] = STATES.filter(
  (state) => state !== 'coming-up' && state !== 'in-time',
);

/** Returns a state's place in a list: what presses by how much, then all the rest, which goes by date. */
export const pressingRank = (state: State): number =>
  PRESSING_STATES.includes(state) ? PRESSING_STATES.indexOf(state) : PRESSING_STATES.length;

/** Returns whether a list writes the state strongly: ridden on, it does harm. */
export const isStrong = (state: State): boolean => state === 'stop-riding' || isReached(state);

/** What comes next for a rider: as mails tell it, and what lies at the workshop above all that is told but the mark. */
export const RIDER_STATES: readonly State[] = [
  'stop-riding',
  'on-the-bench',
  ...TOLD_STATES.slice(1),
  'in-time',
];

/** How far along a service period is: what was told of a lesser state still holds in a greater one. */
const STAGES: Readonly<Record<State, number>> = {
  'in-time': 0,
  'on-the-bench': 0,
  'history-unknown': 1,
  'coming-up': 1,
  due: 2,
  'over-interval': 3,
  'stop-riding': 4,
};
export const isAtLeast = (state: State, told: State): boolean => STAGES[state] >= STAGES[told];
