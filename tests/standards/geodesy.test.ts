import fc from 'fast-check';
import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { hopM } from '../../src/core/ground/samples/ellipsoid.js';

const wgs84 = Geodesic.WGS84;
const degrees = (d: number, m: number, s: number): number => Math.sign(d) * (Math.abs(d) + m / 60 + s / 3600);
const geodesicM = (lat1: number, lon1: number, lat2: number, lon2: number): number =>
  wgs84.Inverse(lat1, lon1, lat2, lon2).s12 ?? Number.NaN;

/** A hop of so many metres from a latitude, by an independent solution of the direct problem. */
const errorOf = (lat: number, azimuth: number, metres: number): number => {
  const { lat2, lon2 } = wgs84.Direct(lat, 0, azimuth, metres);
  return Math.abs(hopM(lat, 0, lat2!, lon2!) / metres - 1);
};

describe('the oracle itself', () => {
  // Source: geographiclib-js geodesictest.js, first two vectors; the Flinders pair from a Vincenty unit test.
  it('gives the published vectors', () => {
    expect(geodesicM(35.60777, -139.44815, -11.17491, -69.95921)).toBeCloseTo(8935244.56048183, 6);
    expect(geodesicM(-19.79938, -174.47484, -11.99349, -154.35109)).toBeCloseTo(2319004.86011694, 6);
    expect(geodesicM(55.52454, 106.05087, 77.03196, 197.18234)).toBeCloseTo(4105086.17139244, 6);
  });
});

describe('the length of a hop', () => {
  it('is within a millionth of the geodesic up to 10 km, from 70° south to 70° north', () => {
    const hops = fc.tuple(
      fc.double({ min: -70, max: 70, noNaN: true }),
      fc.double({ min: 0, max: 360, noNaN: true }),
      fc.double({ min: 1, max: 10_000, noNaN: true }),
    );
    fc.assert(
      fc.property(hops, ([lat, azimuth, metres]) => errorOf(lat, azimuth, metres) < 1e-6),
      { seed: 11, numRuns: 2000 },
    );
  });

  it('is within a millionth up to 1 km at 85°', () => {
    for (let azimuth = 0; azimuth < 360; azimuth += 5) expect(errorOf(85, azimuth, 1000)).toBeLessThan(1e-6);
  });

  it('is not meant for long lines: 55 km at 38° south are 3 millionths off', () => {
    // Source: a Vincenty unit test, Flinders Peak to Buninyong, 54972.271 m.
    const flinders = [degrees(-37, 57, 3.7203), degrees(144, 25, 29.5244)] as const;
    const buninyong = [degrees(-37, 39, 10.1561), degrees(143, 55, 35.3839)] as const;
    const hop = hopM(...flinders, ...buninyong);
    expect(geodesicM(...flinders, ...buninyong)).toBeCloseTo(54972.2711, 3);
    expect(Math.abs(hop / 54972.271 - 1)).toBeLessThan(3e-6);
    expect(Math.abs(hop - 54972.271)).toBeGreaterThan(0.1);
  });

  // Computed on WGS-84: metres of a thousandth of a degree.
  it.each([
    [0, 110.5743, 111.3195],
    [45, 111.1318, 78.8468],
    [60, 111.4123, 55.8],
  ])('of a thousandth of a degree at %f° is %f m north and %f m east', (lat, north, east) => {
    expect(Math.abs(hopM(lat - 0.0005, 0, lat + 0.0005, 0) - north)).toBeLessThan(1e-4);
    expect(Math.abs(hopM(lat, 0, lat, 0.001) - east)).toBeLessThan(1e-4);
  });

  it('differs from a sphere by up to 0.56 %, so the sphere would not do', () => {
    // Computed: haversine with R = 6371008.8 m over 100 m hops, greatest north-south at the equator.
    const { lat2 } = wgs84.Direct(0, 0, 0, 100);
    const sphere = (lat2! * Math.PI * 6371008.8) / 180;
    expect((sphere / hopM(0, 0, lat2!, 0) - 1) * 100).toBeCloseTo(0.561, 3);
  });
});
