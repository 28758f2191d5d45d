/**
 * Contrast as a reader sees it. Source: WCAG 2.2, https://www.w3.org/TR/WCAG22/, its definitions of relative
 * luminance and contrast ratio.
 */

type Rgb = readonly [number, number, number];

/** Returns the three parts of `#rrggbb` or `#rgb`, from 0 to 255. */
export function rgbOf(colour: string): Rgb {
  const digits = /^#([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(colour)?.[1];
  if (digits === undefined) throw new Error(`${colour} is no colour.`);
  const wide = digits.length === 3 ? digits.replace(/./g, '$&$&') : digits;
  return [0, 2, 4].map((at) => Number.parseInt(wide.slice(at, at + 2), 16)) as unknown as Rgb;
}

const luminance = (colour: string): number => {
  const [r, g, b] = rgbOf(colour).map((part) => {
    const share = part / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};

/** Returns from 1, of a colour on itself, to 21, of black on white. */
export const contrast = (a: string, b: string): number => {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
};

/** Returns what is seen of a colour that lets through what lies under it. */
export const laidOver = (over: string, under: string, opacity: number): string => {
  const [top, bottom] = [rgbOf(over), rgbOf(under)];
  const mixed = top.map((part, i) => Math.round(opacity * part + (1 - opacity) * bottom[i]!));
  return `#${mixed.map((part) => part.toString(16).padStart(2, '0')).join('')}`;
};
