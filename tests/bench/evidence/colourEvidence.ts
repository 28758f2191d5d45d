/**
 * Whether the lightness of a ring can be read off a picture by two taps: a made chart under lamps and exposures, seen by a
 * made camera. Sources: Planck's law for lamps; CIE 1931 observer by the lobes of Wyman, Sloan and Shirley 2013, from
 * memory. The camera, its noise and the way phones bend light for the eye are assumptions.
 */
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { encodedOf, labOnPaper, linearOf, type Triple } from './colour.js';
import { textTable } from './textTable.js';

const WAVES = Array.from({ length: 81 }, (_, i) => 380 + 5 * i);
const LAMPS = [2700, 3000, 4000, 5000, 6500] as const;
const STOPS = [-1.5, -1, -0.5, 0, 0.5, 1, 1.5] as const;
/** The most that lightness may be off. */
const MOST = 5;

/** Rings and paper: how much of each wave they send back. Invented, from pale foam over honey to dark oil. */
const rise = (low: number, high: number, middle: number, width: number) => (wave: number) =>
  low + (high - low) / (1 + Math.exp(-(wave - middle) / width));
const PAPER = rise(0.8, 0.9, 420, 15);
const CHART: Readonly<Record<string, (wave: number) => number>> = {
  pale: rise(0.35, 0.72, 480, 40),
  honey: rise(0.1, 0.5, 540, 35),
  brown: rise(0.05, 0.22, 570, 45),
  dark: rise(0.03, 0.07, 580, 60),
};

const planck = (kelvin: number) => (wave: number) =>
  1 / (wave ** 5 * (Math.exp(14_387_769 / (wave * kelvin)) - 1));
const lobe = (wave: number, height: number, at: number, left: number, right: number): number =>
  height * Math.exp(-0.5 * ((wave - at) / (wave < at ? left : right)) ** 2);
const yBar = (wave: number): number =>
  lobe(wave, 0.821, 568.8, 46.9, 40.5) + lobe(wave, 0.286, 530.9, 16.3, 31.1);
const CAMERA: readonly ((wave: number) => number)[] = [
  (wave) => lobe(wave, 1, 600, 40, 40),
  (wave) => lobe(wave, 1, 535, 42, 42),
  (wave) => lobe(wave, 1, 460, 30, 30),
];
/** From the camera's channels to sRGB, rows that keep white white. An assumption. */
const MIX: readonly Triple[] = [
  [1.55, -0.45, -0.1],
  [-0.2, 1.45, -0.25],
  [0, -0.4, 1.4],
];

const sum = (of: (wave: number) => number): number => WAVES.reduce((all, wave) => all + of(wave), 0);
const trueLightness = (spot: (wave: number) => number): number => {
  const light = planck(6500);
  const y = sum((w) => spot(w) * light(w) * yBar(w)) / sum((w) => PAPER(w) * light(w) * yBar(w));
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (116 * 841 * y) / 108;
};

/** As phones do it: light is bent so that the middle is stronger and highlights roll off. */
const bent = (light: number): number =>
  light ** 0.9 / (light ** 0.9 + 0.22 * (1 - Math.min(1, light)) + 1e-9);

type Tone = 'as it is' | 'bent as phones do';

function seenBy(
  spot: (wave: number) => number,
  kelvin: number,
  stops: number,
  tone: Tone,
  seed: string,
): Triple {
  const random = seededRandom(seed);
  const light = planck(kelvin);
  // White is balanced half of the way to the lamp, as cameras leave some of its warmth.
  const raw = CAMERA.map((channel) => {
    const white = sum((w) => light(w) * channel(w));
    const usual = sum((w) => planck(5000)(w) * channel(w));
    const level = sum((w) => spot(w) * light(w) * channel(w)) / white;
    return (
      level *
      (white /
        usual /
        (sum((w) => light(w) * CAMERA[1]!(w)) / sum((w) => planck(5000)(w) * CAMERA[1]!(w)))) **
        0.5
    );
  });
  const mixed = MIX.map((row) => row[0] * raw[0]! + row[1] * raw[1]! + row[2] * raw[2]!);
  return mixed.map((value) => {
    const exposed = Math.max(0, value) * 0.6 * 2 ** stops;
    const noisy = exposed * (1 + 0.02 * (random() - 0.5));
    return encodedOf(tone === 'as it is' ? noisy : bent(Math.min(1, noisy)));
  }) as unknown as Triple;
}

/** A spot at the end of a channel says nothing: it is told to be taken again. */
const isUsable = (spot: Triple): boolean => spot.every((value) => value > 2 && value < 250);

export async function colourEvidence(): Promise<string> {
  const rows: string[][] = [];
  for (const tone of ['as it is', 'bent as phones do'] as const)
    for (const [name, spot] of Object.entries(CHART)) {
      const truth = trueLightness(spot);
      const errors: number[] = [];
      let refused = 0;
      for (const kelvin of LAMPS)
        for (const stops of STOPS) {
          const [ring, paper] = [
            seenBy(spot, kelvin, stops, tone, `${name} ${kelvin} ${stops}`),
            seenBy(PAPER, kelvin, stops, tone, `paper ${kelvin} ${stops}`),
          ];
          if (!isUsable(ring) || !isUsable(paper)) refused += 1;
          else
            errors.push(
              labOnPaper(
                ring.map(linearOf) as unknown as Triple,
                paper.map(linearOf) as unknown as Triple,
              )[0] - truth,
            );
        }
      const off = errors.map(Math.abs).sort((a, b) => a - b);
      const within = off.filter((error) => error <= MOST).length;
      rows.push([
        ...[tone, name, truth.toFixed(1), String(refused)],
        ...[
          (off[Math.floor(off.length / 2)] ?? Number.NaN).toFixed(1),
          (off.at(-1) ?? Number.NaN).toFixed(1),
        ],
        `${within} of ${off.length}`,
      ]);
    }
  return `Lightness of a ring off a picture, by two taps (5 lamps of 2 700 to 6 500 K, 7 exposures of ±1.5 stops)\n${textTable(
    [
      ['light in the picture', 'ring', 'L* true', 'not usable', 'median off', 'most off', 'within 5'],
      ...rows,
    ],
  )}`;
}
