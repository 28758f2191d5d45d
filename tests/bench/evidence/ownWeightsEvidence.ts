/** How often the weights learnt from foam rings hold the truth: rings made by known laws and known weights. */
import { type Random, seededRandom } from '../../../src/core/chance/seededRandom.js';
import type { Weights } from '../../../src/core/ledger/ledger.js';
import { CLAMP, DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { hoursBy, noGround, withRide } from '../../../src/core/scale/groundHours.js';
import { type GroundSeen, teachWeights, type WeightsTaught } from '../../../src/core/scale/ownWeights.js';
import { differs, normal, RING_LAWS } from './ringsEvidence.js';
import { textTable } from './textTable.js';

const SIMULATIONS = Number(process.env.STANCHION_RING_RUNS ?? 300);
const RIDES = 12;
/** Severity of the ground that riders like, and how it differs between riders and between their rides. Assumptions. */
const LIKED = 0.8;
const RIDERS_DIFFER = 0.55;
const RIDES_DIFFER = 0.35;

/** Returns services of units whose rings go dark by these weights and this law, several of each unit. */
export function ringsBy(
  weights: Weights,
  law: (random: Random) => number,
  count: number,
  random: Random,
): GroundSeen[] {
  const hoursOf = hoursBy(weights);
  const seen: GroundSeen[] = [];
  while (seen.length < count) {
    const factor = differs(random);
    const liked = LIKED * Math.exp(RIDERS_DIFFER * normal(random));
    const own = 1 + Math.floor(5 * random());
    for (let i = 0; i < own && seen.length < count; i++) {
      // Who rides rough comes after fewer hours.
      const movingHours = (50 * Math.exp(0.5 * normal(random))) / Math.max(0.6, Math.min(1.6, liked));
      let ground = noGround();
      for (let ride = 0; ride < RIDES; ride++) {
        const severity = liked * Math.exp(RIDES_DIFFER * normal(random));
        ground = withRide(ground, {
          parts: [{ share: 1, severity }],
          movingHours: movingHours / RIDES,
          airHours: 0,
        });
      }
      seen.push({ ground, isDark: hoursOf(ground) >= law(random) * factor });
    }
  }
  return seen;
}

/** Returns what is told of one made workshop. */
export const taughtBy = (weights: Weights, law: string, count: number, seed: string): WeightsTaught =>
  teachWeights(ringsBy(weights, RING_LAWS[law]!, count, seededRandom(seed)), DEFAULT_WEIGHTS, CLAMP);

const TRUTHS: readonly (readonly [smooth: number, rough: number])[] = [
  [0.5, 2],
  [0.7, 1.5],
  [1, 1],
  [0.6, 2.8],
];

export async function ownWeightsEvidence(): Promise<string> {
  const rows: string[][] = [];
  for (const [smooth, rough] of TRUTHS)
    for (const size of [80, 160, 320]) {
      let [told, smoothHeld, roughHeld, now] = [0, 0, 0, 0];
      const found: [number, number][] = [];
      for (let i = 0; i < SIMULATIONS; i++) {
        const law = Object.keys(RING_LAWS)[i % 3]!;
        const { own } = taughtBy({ smooth, typical: 1, rough }, law, size, `weights ${smooth} ${size} ${i}`);
        if (own === null) continue;
        told += 1;
        if (own.smooth.low <= smooth && smooth <= own.smooth.high) smoothHeld += 1;
        if (own.rough.low <= rough && rough <= own.rough.high) roughHeld += 1;
        if (own.holdsNow) now += 1;
        found.push([own.weights.smooth, own.weights.rough]);
      }
      const share = (count: number, of: number): string =>
        of === 0 ? '' : `${((100 * count) / of).toFixed(0)} %`;
      const middle = (at: 0 | 1): string =>
        found
          .map((one) => one[at])
          .sort((a, b) => a - b)
          [Math.floor(found.length / 2)]?.toFixed(2) ?? '';
      rows.push([
        ...[`${smooth} / 1 / ${rough}`, String(size), share(told, SIMULATIONS)],
        ...[middle(0), share(smoothHeld, told), middle(1), share(roughHeld, told), share(now, told)],
      ]);
    }
  const head = ['true weights', 'services', 'told', 'smooth, middle', 'held', 'rough, middle', 'held'];
  return `Own weights from foam rings (${SIMULATIONS} simulations each, three laws)\n${textTable([[...head, 'weights as shipped held'], ...rows])}`;
}
