import { describe, expect, it } from 'vitest';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { apartWords, type JoinWord, togetherWords } from '../../../src/core/rides/putTogether.js';
import { isCounted, type Part, type Ride } from '../../../src/core/rides/ride.js';
import { settleRides } from '../../../src/core/rides/settle.js';
import { knowledge, partOf, readingOf } from '../../fixtures/readings.js';

const settle = (parts: readonly Part[]): Ride[] => settleRides(parts, knowledge(), DEFAULT_WEIGHTS);
const minutesOf = (rides: readonly Ride[]): number =>
  rides.filter(isCounted).reduce((sum, ride) => sum + ride.movingS, 0) / 60;
const said = (parts: readonly Part[], words: readonly JoinWord[]): Part[] =>
  parts.map((part) => {
    const joins = words.filter((word) => word.readingId === part.readingId).map((word) => word.joins);
    return { ...part, answer: { ...part.answer, joins: Object.assign({}, part.answer.joins, ...joins) } };
  });
const alone = (part: Part) => ({ parts: [part], shiftsMs: [0] });

const long = partOf(readingOf('2025-06-10T09:00:00Z', 90));
const short = partOf(readingOf('2025-06-10T10:20:00Z', 30));

describe('words on two rides', () => {
  it('make them one, two and one again, as often as somebody likes', () => {
    expect(settle([long, short]).map((ride) => ride.question)).toEqual([null, 'same-ride-unclear']);
    const together = togetherWords(alone(long), alone(short));
    const apart = apartWords([long.readingId], [short.readingId]);
    let parts: Part[] = [long, short];
    for (let i = 0; i < 3; i++) {
      parts = said(parts, together);
      expect(minutesOf(settle(parts))).toBe(110);
      parts = said(parts, apart);
      expect(minutesOf(settle(parts))).toBe(120);
    }
  });

  it('move a clock where the two are most alike, and keep each recording’s own', () => {
    const sketch = [12_000, 3_000, ...Array.from({ length: 48 }, (_, i) => 20 * i), 700, 300, 300, 700];
    const [a, b] = ['09:00', '10:07'].map((time) =>
      partOf(readingOf(`2025-06-10T${time}:00Z`, 60, { sketch })),
    );
    const words = togetherWords(alone(a!), alone(b!));
    expect(words.map((word) => Object.values(word.joins))).toEqual([[-67 * 60_000], [67 * 60_000]]);
    expect(minutesOf(settle(said([a!, b!], words)))).toBe(60);
  });

  it('hold where only one of the two still says so, and leave a twin of one alone', () => {
    const apart = apartWords([long.readingId], [short.readingId]);
    expect(minutesOf(settle(said([long, short], apart.slice(1))))).toBe(120);
    const twin = partOf(readingOf('2025-06-10T10:20:00Z', 30));
    expect(minutesOf(settle([...said([long, short], apart), twin]))).toBe(120);
  });
});
