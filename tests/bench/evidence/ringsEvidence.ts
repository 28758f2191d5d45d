/** How often the hours told of foam rings hold the truth: rings made by known laws, several services a unit. */
import { type Random, seededRandom } from '../../../src/core/chance/seededRandom.js';
import { type RingsSeen, teach } from '../../../src/core/ledger/findingsTeach.js';
import { textTable } from './textTable.js';

const SIMULATIONS = Number(process.env.STANCHION_RING_RUNS ?? 1000);
const SIZES = [40, 80, 160] as const;
/** Units differ from one another by so much, in logarithms. An assumption. */
const UNITS_DIFFER = 0.12;

export const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** When rings go dark. Units: terrain hours. */
export const RING_LAWS: Readonly<Record<string, (random: Random) => number>> = {
  Weibull: (random) => 60 * (-Math.log(1 - random())) ** (1 / 3),
  'log-normal': (random) => 58 * Math.exp(0.35 * normal(random)),
  'log-logistic': (random) => {
    const u = random();
    return 55 * (u / (1 - u)) ** (1 / 5);
  },
};

export const differs = (random: Random): number => Math.exp(UNITS_DIFFER * normal(random));

function truthOf(law: (random: Random) => number): number {
  const random = seededRandom('truth');
  const all = Array.from({ length: 200_000 }, () => law(random) * differs(random)).sort((a, b) => a - b);
  return all[all.length / 10]!;
}

function services(law: (random: Random) => number, count: number, random: Random): RingsSeen[] {
  const seen: RingsSeen[] = [];
  for (let unit = 0; seen.length < count; unit++) {
    const factor = differs(random);
    const own = 1 + Math.floor(5 * random());
    for (let i = 0; i < own && seen.length < count; i++) {
      const terrainHours = 50 * Math.exp(0.5 * normal(random));
      const movingHours = terrainHours * Math.exp(0.3 * normal(random));
      seen.push({
        unitId: `u${unit}`,
        terrainHours,
        movingHours,
        isDark: terrainHours >= law(random) * factor,
      });
    }
  }
  return seen;
}

export async function ringsEvidence(): Promise<string> {
  const rows: string[][] = [];
  for (const [name, law] of Object.entries(RING_LAWS)) {
    const truth = truthOf(law);
    for (const size of SIZES) {
      let [told, holds, terrain, moving] = [0, 0, 0, 0];
      const widths: number[] = [];
      for (let i = 0; i < SIMULATIONS; i++) {
        const seed = `${name} ${size} ${i}`;
        const { lesson } = teach(services(law, size, seededRandom(seed)), seed);
        if (lesson?.better === 'terrain-hours') terrain += 1;
        if (lesson?.better === 'moving-hours') moving += 1;
        if (!lesson?.nineOfTen) continue;
        const { low, high } = lesson.nineOfTen;
        told += 1;
        if (low <= truth && truth <= high) holds += 1;
        widths.push(high - low);
      }
      widths.sort((a, b) => a - b);
      const share = (count: number, of: number): string => `${((100 * count) / of).toFixed(1)} %`;
      rows.push([
        ...[name, String(size), truth.toFixed(1), share(told, SIMULATIONS), share(holds, told)],
        (widths[Math.floor(widths.length / 2)] ?? 0).toFixed(1),
        ...[share(terrain, SIMULATIONS), share(moving, SIMULATIONS)],
      ]);
    }
  }
  return `Foam rings: hours at which nine of ten are not yet dark (${SIMULATIONS} simulations each; rings follow terrain hours)\n${textTable(
    [
      [
        'law',
        'services',
        'truth h',
        'told',
        'holds truth',
        'median width h',
        'terrain better',
        'moving better',
      ],
      ...rows,
    ],
  )}`;
}
