import { getFitSportId, getFitSubSportId } from 'fit-file-parser';
import { describe, expect, it } from 'vitest';
import { sportOfType } from '../../../src/files/gpx/gpxSport.js';
import { itWithRecordings, recordingBytes } from '../../fixtures/recordings.js';

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

  it('reads words that are run together, as exports write them', () => {
    const said = ['VirtualRide', 'EBikeRide', 'EMountainBikeRide', 'MountainBikeRide', 'GravelRide'].map(
      (word) => Object.values(sportOfType(word)).join(' '),
    );
    expect(said).toEqual([
      'cycling virtual_activity',
      'e_biking ',
      'e_biking e_bike_mountain',
      'cycling mountain',
      'cycling gravel_cycling',
    ]);
  });

  it('makes nothing of a number by a program whose numbers are not known', () => {
    expect(sportOfType('17', 'a test').sport).toBeNull();
  });

  itWithRecordings('makes of a number what its program means by it', () => {
    const text = new TextDecoder().decode(recordingBytes('rides/bike-10.gpx'));
    const creator = /creator="([^"]*)"/.exec(text)![1]!;
    expect(sportOfType('1', creator)).toEqual({ sport: 'cycling', subSport: null });
    expect(sportOfType('17', creator)).toEqual({ sport: 'cycling', subSport: 'virtual_activity' });
    expect(sportOfType('4711', creator).sport).toBeNull();
  });
});
