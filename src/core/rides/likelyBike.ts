/** Which of a rider's bikes some rides look like: offered with the question, never taken for an answer. */
import type { Instant } from '../../units.js';
import { wordsIn } from '../findWords.js';
import { priorOf } from '../ledger/weight.js';
import { bikeTypesOf } from '../subSports.js';
import type { BikeType } from '../tokens.js';
import { type KnownBike, wasFitted } from './attribution.js';

/** What some rides have in common, and how hard their ground was. */
export interface RidesAlike {
  readonly profile: string | null;
  readonly subSport: string | null;
  readonly severities: readonly number[];
  readonly starts: readonly Instant[];
}

/** Words by which riders name profiles, English and Portuguese. Common practice, no source. */
const PROFILE_WORDS: readonly (readonly [RegExp, readonly BikeType[]])[] = [
  [/^(downhill|dh|enduro|bikepark|park|gravity|freeride)$/, ['gravity', 'trail']],
  [/^(gravel|cx|cyclocross)$/, ['gravel']],
  [/^(road|estrada|commute|commuting|cidade)$/, ['road', 'gravel']],
  [/^(mountain|mtb|btt|trail|xc|monte)$/, ['trail', 'gravity']],
];

const typesOf = ({ profile, subSport }: RidesAlike): readonly BikeType[] => {
  const words = wordsIn(profile ?? '');
  const named = PROFILE_WORDS.find(([word]) => words.some((one) => word.test(one)));
  return named?.[1] ?? bikeTypesOf(subSport);
};

const SHORTEST_NAME = 3;

const middleOf = (values: readonly number[]): number | null => {
  const sorted = values.filter((value) => value > 0).sort((a, b) => a - b);
  return sorted.length === 0 ? null : sorted[Math.floor(sorted.length / 2)]!;
};

/**
 * Returns the bike that the rides look like: by its name in the profile, by the kind of riding, by how hard the ground
 * was; null where nothing tells it. Only bikes that had suspension at the time of a ride come in question.
 */
export function likelyBike(rides: RidesAlike, bikes: readonly KnownBike[]): string | null {
  const own = bikes.filter((bike) => rides.starts.some((at) => wasFitted(bike, at)));
  if (own.length <= 1) return own[0]?.bike.id ?? null;
  const words = new Set(wordsIn(rides.profile ?? '').filter((word) => word.length >= SHORTEST_NAME));
  const named = own.filter(({ bike }) => wordsIn(bike.name).some((word) => words.has(word)));
  if (named.length === 1) return named[0]!.bike.id;
  for (const type of typesOf(rides)) {
    const ofType = own.filter(({ bike }) => bike.type === type);
    if (ofType.length === 1) return ofType[0]!.bike.id;
    if (ofType.length > 1) return null;
  }
  return byGround(own, middleOf(rides.severities));
}

/** The bike whose type's usual ground is nearest, in logarithms; null where two are as near. */
function byGround(bikes: readonly KnownBike[], severity: number | null): string | null {
  if (severity === null) return null;
  const far = ({ bike }: KnownBike): number => Math.abs(Math.log(severity / priorOf(null, bike.type)));
  const [first, second] = [...bikes].sort((a, b) => far(a) - far(b));
  return far(first!) < far(second!) ? first!.bike.id : null;
}
