/** How a unit is set, as somebody read it. There are no defaults: nothing is known of it before. */
import { buildOf, WITH_AIR } from '../ledger/build.js';
import type { UnitSort } from '../ledger/serviceKinds.js';

/** What of a pressure is read before it is let out; clicks are counted from fully closed. */
const OF_AIR = ['pressure', 'sag', 'rebound', 'compression', 'tokens', 'kitWeight', 'travelUsed'] as const;
const OF_COIL = [
  'springRate',
  'preload',
  'sag',
  'rebound',
  'compression',
  'kitWeight',
  'travelUsed',
] as const;
export type SetUpField = (typeof OF_AIR)[number] | (typeof OF_COIL)[number];

/** All that may be read, in the order in which it is. */
export const SET_UP_FIELDS: readonly SetUpField[] = [...new Set([...OF_COIL.slice(0, 2), ...OF_AIR])];

/** Returns what is asked of such a unit; with its name eight at most. */
export const setUpFields = (sort: UnitSort): readonly SetUpField[] =>
  WITH_AIR.includes(buildOf(sort)) ? OF_AIR : OF_COIL;
