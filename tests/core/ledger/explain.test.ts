import { describe, expect, it } from 'vitest';
import type { Terrain } from '../../../src/core/ground/samples/reading.js';
import { explainWeight } from '../../../src/core/ledger/explain.js';
import { explanationText } from '../../../src/languages/explanation.js';
import { LANGUAGES, pageTextsFor } from '../../../src/languages/index.js';
import { seconds } from '../../../src/units.js';

const terrain: Terrain = {
  classS: [0, 3600],
  quality: 0.9,
  witnessWeight: 1,
  witness: 0,
  gradientChange: 0.01,
  noiseM: 0.1,
};
const nothing = { wet: false, leftOut: [] };
const sentence = (
  of: Terrain,
  severity: number,
  beside: Parameters<typeof explainWeight>[2] = nothing,
): string => explanationText(explainWeight(of, { severity }, beside), pageTextsFor('en').ride);

describe('why a ride has its weight', () => {
  it('calls itself an estimate and names the ground', () => {
    expect(sentence(terrain, 0.66)).toBe(
      'An estimate: ground between a smooth road and a typical trail; the elevation in the file is good.',
    );
    const grounds = [0.3, 0.66, 1, 1.5, 2].map(
      (severity) => explainWeight(terrain, { severity }, nothing)[0]!.code,
    );
    expect(grounds).toEqual(['smooth', 'below-typical', 'typical', 'above-typical', 'rough']);
  });

  it('says how much is assumed, and when all of it is', () => {
    expect(sentence({ ...terrain, quality: 0.55 }, 1)).toContain('fair, so 45 % is assumed');
    expect(sentence({ ...terrain, quality: 0.2 }, 1)).toContain('poor, so 80 % is assumed');
    expect(sentence({ ...terrain, quality: null }, 1)).toContain('the kind of ride alone decides');
    expect(sentence({ ...terrain, classS: [0, 0] }, 1)).toContain('the kind of ride alone decides');
  });

  it('names wavering heights as the reason where they hide the ground, and only then', () => {
    const wavers = { ...terrain, quality: 0.2, noiseM: 1.02 };
    expect(sentence(wavers, 1)).toBe(
      'An estimate: ground like a typical trail; the elevation in the file is poor, so 80 % is assumed from the kind of ride and how it was ridden; the heights waver by about 102 cm, which hides the ground.',
    );
    // Ground of 1 % at 80 m is 80 cm: half of it is the bound.
    expect(sentence({ ...wavers, noiseM: 0.41 }, 1)).toContain('41 cm');
    expect(sentence({ ...wavers, noiseM: 0.39 }, 1)).not.toContain('waver');
    expect(sentence({ ...wavers, quality: 0.9 }, 1)).not.toContain('waver');
    expect(sentence({ ...wavers, noiseM: null, gradientChange: null }, 1)).not.toContain('waver');
    expect(sentence({ ...wavers, noiseM: 0, gradientChange: 0 }, 1)).not.toContain('waver');
  });

  it('says whose heights they seem to be where the file shows it, and that nothing does', () => {
    const heights = { variance: 1, again: null, rest: { restS: 120, changeM: 1.4 } };
    const errs = { ...terrain, quality: 0.2, noiseM: 1.02, heights };
    expect(sentence(errs, 1)).toContain(
      'from a satellite receiver, as a phone has: they err by about 102 cm',
    );
    expect(sentence({ ...errs, noiseM: 0.6 }, 1)).toContain('waver by about 60 cm');
    const unseen = { ...terrain, quality: 0.6, heights: { ...heights, rest: null } };
    expect(sentence(unseen, 1)).toContain('nothing in the file shows whether its heights are right');
    expect(sentence({ ...unseen, quality: 0.9 }, 1)).not.toContain('whether');
    expect(sentence({ ...unseen, heights }, 1)).not.toContain('whether');
    expect(sentence({ ...terrain, quality: 0.6 }, 1)).not.toContain('whether');
  });

  it('tells of a wet mark and of what was left out', () => {
    const beside = {
      wet: true,
      leftOut: [
        { code: 'lift' as const, s: seconds(1500) },
        { code: 'gap' as const, s: seconds(900) },
        { code: 'vehicle' as const, s: seconds(30) },
      ],
    };
    expect(sentence(terrain, 1, beside)).toBe(
      'An estimate: ground like a typical trail; the elevation in the file is good; marked as wet; 25 min up that was not ridden left out.',
    );
  });

  it('says what the recorder felt, and what that adds where it adds a minute', () => {
    const felt = { ...terrain, landings: { count: 129, hangS: 59.4, longestS: 0.76 } };
    expect(sentence(felt, 1)).toContain('landings recorded: 129, 59 s in the air, which add 10 min');
    const few = { ...terrain, landings: { count: 1, hangS: 0.3, longestS: 0.3 } };
    expect(sentence(few, 1)).toContain('landings recorded: 1, 1 s in the air');
    const none = { ...terrain, landings: { count: 0, hangS: 0, longestS: null } };
    expect(sentence(none, 1)).not.toContain('landings');
  });

  it.each(LANGUAGES)('fills every slot of every text in %s', (language) => {
    const { ride } = pageTextsFor(language);
    const values = { percent: 12, minutes: 34, count: 5, seconds: 6, centimetres: 78 };
    for (const code of Object.keys(ride.explanation) as (keyof typeof ride.explanation)[])
      expect(explanationText([{ code, values }], ride), code).not.toMatch(/[{}]|undefined/);
    const [, poor] = explainWeight({ ...terrain, quality: 0.2 }, { severity: 1 }, nothing);
    expect(explanationText([poor!], ride)).toContain('80 %');
  });
});
