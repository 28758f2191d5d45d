import { getFitSportId, getFitSubSportId } from 'fit-file-parser';
import { describe, expect, it } from 'vitest';
import { sportOfType } from '../../src/files/gpxSport.js';

const WORDS = [
  'Cycling',
  'biking',
  'Ride',
  'mtb',
  'Mountain Biking',
  'road-biking',
  'gravel',
  'e-bike',
  'emtb',
  'Downhill',
];

describe('sportOfType', () => {
  it('gives names that the FIT profile knows', () => {
    for (const word of [
      ...WORDS,
      'run',
      'hike',
      'virtual ride',
      'commute',
      'skiing',
      'car',
      'trail running',
    ]) {
      const { sport, subSport } = sportOfType(word);
      expect(getFitSportId(sport), word).not.toBeNull();
      if (subSport !== null) expect(getFitSubSportId(subSport), word).not.toBeNull();
    }
  });

  it('translates what riders and exporters write', () => {
    expect(WORDS.map((word) => Object.values(sportOfType(word)).join(' '))).toEqual([
      'cycling ',
      'cycling ',
      'cycling ',
      'cycling mountain',
      'cycling mountain',
      'cycling road',
      'cycling gravel_cycling',
      'e_biking ',
      'e_biking e_bike_mountain',
      'cycling downhill',
    ]);
  });

  it('takes a name of the profile as it is', () => {
    expect(sportOfType('running').sport).toBe('running');
    expect(sportOfType('Alpine_Skiing').sport).toBe('alpine_skiing');
  });

  it('makes nothing of free text, of a number, or of a name that says nothing', () => {
    for (const word of [
      '',
      'Saturday with friends',
      '1',
      '9',
      'generic',
      'constructor',
      '__proto__',
      'toString',
    ]) {
      expect(sportOfType(word), word).toEqual({ sport: null, subSport: null });
    }
  });
});
