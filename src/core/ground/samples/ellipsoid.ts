import { firstKnown } from './missing.js';

/** Semi-major axis in metres and first eccentricity squared. Source: WGS-84, which GPX 1.1 and FIT both name. */
const AXIS_M = 6_378_137;
const ECCENTRICITY_SQ = 0.006_694_379_990_141_316;
const RAD = Math.PI / 180;

/** Returns a difference of longitudes by the short way round. Units: degrees. */
export const shortWay = (degrees: number): number =>
  degrees > 180 ? degrees - 360 : degrees < -180 ? degrees + 360 : degrees;

/** Returns how many metres a degree of latitude and a degree of longitude measure at this latitude. */
export function metresPerDegree(lat: number): { readonly north: number; readonly east: number } {
  const sin = Math.sin(lat * RAD);
  const w = 1 - ECCENTRICITY_SQ * sin * sin;
  const primeVertical = AXIS_M / Math.sqrt(w);
  return {
    north: ((primeVertical * (1 - ECCENTRICITY_SQ)) / w) * RAD,
    east: primeVertical * Math.sqrt(1 - sin * sin) * RAD,
  };
}

/**
 * Returns the length of a short hop on the ellipsoid, by the radii of curvature at its middle latitude.
 * Within 1e-6 of the geodesic for hops up to 10 km between 70° south and north, and up to 1 km to 85°; not meant for
 * longer hops or the poles.
 * Units: degrees in, metres out.
 */
export function hopM(lat1: number, lon1: number, lat2: number, lon2: number): number {
  const sin = Math.sin((lat1 + lat2) * 0.5 * RAD);
  const w = 1 - ECCENTRICITY_SQ * sin * sin;
  const primeVertical = AXIS_M / Math.sqrt(w);
  const north = (lat2 - lat1) * RAD * ((primeVertical * (1 - ECCENTRICITY_SQ)) / w);
  const east = shortWay(lon2 - lon1) * RAD * primeVertical * Math.sqrt(1 - sin * sin);
  return Math.sqrt(north * north + east * east);
}

/**
 * Returns how long a way is that leads so far east and so far north. `Math.hypot` says the same to the last digit, at
 * four times the price. Shape: no value infinite.
 */
export function straightM(east: number, north: number): number {
  const across = Math.abs(east);
  const up = Math.abs(north);
  const longer = Math.max(across, up);
  if (longer === 0) return across + up;
  const a = across / longer;
  const b = up / longer;
  return Math.sqrt(a * a + b * b) * longer;
}

/** Positions on a plane, metres east and north of the first valid one; NaN where there is none. */
export interface Plane {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
}

/**
 * Returns positions on a plane that keeps angles and straightness over a ride's extent, not exact lengths.
 * Units: degrees in, metres out.
 */
export function planeOf(lat: Float64Array, lon: Float64Array): Plane {
  const eastM = new Float64Array(lat.length).fill(Number.NaN);
  const northM = new Float64Array(lat.length).fill(Number.NaN);
  const first = firstKnown(lat);
  if (first < 0) return { eastM, northM };
  const scale = metresPerDegree(lat[first]!);
  for (let i = first; i < lat.length; i++) {
    northM[i] = (lat[i]! - lat[first]!) * scale.north;
    eastM[i] = shortWay(lon[i]! - lon[first]!) * scale.east;
  }
  return { eastM, northM };
}
