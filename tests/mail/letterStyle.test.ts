import { describe, expect, it } from 'vitest';
import { STYLE, TONE } from '../../src/mail/letterStyle.js';

/** Source: WCAG 2.1, relative luminance and contrast ratio (from memory). */
const luminance = (colour: string): number => {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.03928 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number => {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
};

const colourIn = (style: string, property: string): string => {
  const found = new RegExp(`(?:^|[;{])${property}:(#[0-9a-f]{6})`).exec(style)?.[1];
  if (found === undefined) throw new Error(`no ${property} in ${style}`);
  return found;
};
const dark = (name: string): string =>
  new RegExp(`\\.${name}(\\{[^}]*#[^}]*\\})`).exec(STYLE.toString().split('dark){')[1] ?? '')?.[1] ?? '';

it('knows the contrast of black on white and of a colour on itself', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#24566b', '#24566b')).toBe(1);
});

describe('every text stands out by 4.5 to 1 (WCAG 2.1, 1.4.3)', () => {
  const sheet = colourIn(TONE.sheet, 'background');
  it.each([
    ['text', colourIn(TONE.page, 'color'), sheet],
    ['cautions', colourIn(TONE.page, 'color'), colourIn(TONE.cautions, 'background')],
    ['small print', colourIn(TONE.foot, 'color'), sheet],
    ['notes', colourIn(TONE.small, 'color'), sheet],
    ['labels', colourIn(TONE.label, 'color'), sheet],
    ['links', colourIn(TONE.link, 'color'), sheet],
    ['marks', colourIn(TONE.mark, 'color'), sheet],
    ['buttons', colourIn(TONE.button, 'color'), colourIn(TONE.button, 'background')],
    ['dark text', colourIn(dark('page'), 'color'), colourIn(dark('sheet'), 'background')],
    ['dark cautions', colourIn(dark('page'), 'color'), colourIn(dark('cautions'), 'background')],
    ['dark small print', colourIn(dark('quiet'), 'color'), colourIn(dark('sheet'), 'background')],
    ['dark links', colourIn(dark('ink'), 'color'), colourIn(dark('sheet'), 'background')],
    ['dark marks', colourIn(dark('mark'), 'color'), colourIn(dark('sheet'), 'background')],
    ['dark buttons', colourIn(dark('button'), 'color'), colourIn(dark('button'), 'background')],
  ])('%s', (_, text, ground) => {
    expect(contrast(text, ground)).toBeGreaterThanOrEqual(4.5);
  });
});
