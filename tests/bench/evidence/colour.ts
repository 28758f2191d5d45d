/** Colour as a number: light from a picture, and CIELAB with a paper as white. */

/** Light of a channel. Shape: 0 to 255 in, 0 to 1 out. Source: IEC 61966-2-1. */
export function linearOf(value: number): number {
  const c = value / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** The other way. Source: IEC 61966-2-1. */
export function encodedOf(light: number): number {
  const bounded = Math.min(1, Math.max(0, light));
  const c = bounded <= 0.0031308 ? 12.92 * bounded : 1.055 * bounded ** (1 / 2.4) - 0.055;
  return Math.round(255 * c);
}

export type Triple = readonly [number, number, number];

/** Source: IEC 61966-2-1, for D65. */
const TO_XYZ: readonly Triple[] = [
  [0.4124, 0.3576, 0.1805],
  [0.2126, 0.7152, 0.0722],
  [0.0193, 0.1192, 0.9505],
];

const xyzOf = (light: Triple): Triple =>
  TO_XYZ.map((row) => row[0] * light[0] + row[1] * light[1] + row[2] * light[2]) as unknown as Triple;

const D65: Triple = xyzOf([1, 1, 1]);

/** Source: ISO/CIE 11664-4. */
const bend = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : (841 / 108) * t + 4 / 29);

/** Returns L*, a* and b* of linear light. Source: ISO/CIE 11664-4. */
export function labOf(light: Triple): Triple {
  const [x, y, z] = xyzOf(light).map((value, i) => bend(value / D65[i]!)) as unknown as Triple;
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Returns the colour of a spot as it would be under a light in which the paper beside it is white. */
export const labOnPaper = (spot: Triple, paper: Triple): Triple =>
  labOf(spot.map((value, i) => value / paper[i]!) as unknown as Triple);
