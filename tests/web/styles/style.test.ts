import { describe, expect, it } from 'vitest';
import { DARK, LIGHT } from '../../../src/palette.js';
import { ICON, STYLE } from '../../../src/web/styles/style.js';
import { contrast, laidOver } from '../../contrast.js';

/** Source: WCAG 2.2, success criterion 1.4.11 (non-text contrast): what is needed to know a control or read a plot. */
const LEAST = 3;

/** Returns the style without what holds on paper alone. */
function onScreen(style: string): string {
  const from = style.indexOf('@media print{');
  if (from < 0) return style;
  let [at, depth] = [style.indexOf('{', from) + 1, 1];
  for (; depth > 0; at += 1) depth += style[at] === '{' ? 1 : style[at] === '}' ? -1 : 0;
  return onScreen(style.slice(0, from) + style.slice(at));
}

const rules = [...onScreen(STYLE).matchAll(/([^{}]+)\{([^{}]*)\}/g)].map(([, selectors, body]) => ({
  selectors: selectors!.split(',').map((one) => one.trim()),
  body: body!,
}));

/** Returns what the rules of a selector say of a property; the last one counts. */
const said = (selector: string, property: string): string | undefined =>
  rules
    .filter(({ selectors }) => selectors.includes(selector))
    .map(({ body }) => new RegExp(`(?:^|;)${property}:([^;]+)`).exec(body)?.[1])
    .filter((value) => value !== undefined)
    .at(-1);

/** Returns the property that a value paints with, and its colour in a scheme. */
function colourIn(value: string | undefined, colours: typeof LIGHT): string {
  const name = /var\(--([a-z-]+)\)/
    .exec(value ?? '')?.[1]
    ?.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
  const colour = colours[name as keyof typeof LIGHT];
  if (colour === undefined) throw new Error(`${value} names no colour.`);
  return colour;
}

const SCHEMES = [
  ['light', LIGHT],
  ['dark', DARK],
] as const;

describe.each(SCHEMES)('in %s what must be seen stands out by 3 to 1 (WCAG 2.2, 1.4.11)', (_, colours) => {
  const grounds = [colours.paper, colours.wash];

  it('knows its colours: they stand in the style under their names', () => {
    for (const [name, colour] of Object.entries(colours))
      expect(STYLE).toContain(
        `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}:${colour}`,
      );
  });

  it.each([
    ['a field', 'input', 'border'],
    ['a choice from a list', 'select', 'border'],
    ['a text field', 'textarea', 'border'],
    ['what is tapped', '.tap', 'border'],
    ['a button', 'button', 'border'],
    ['a button’s label', 'button', 'color'],
    ['a filled button', 'button.primary', 'background'],
    ['the focus', ':focus-visible', 'outline'],
    ['the way that one is on', 'nav a[aria-current]', 'border-color'],
    ['a line to write on', '.fill', 'border-bottom'],
  ])('%s: %s, %s', (_what, selector, property) => {
    for (const ground of grounds)
      expect(contrast(colourIn(said(selector, property), colours), ground)).toBeGreaterThanOrEqual(LEAST);
  });

  const drawn = rules
    .flatMap(({ selectors }) => selectors)
    .filter((one) => /^\.plot \.[a-z.]+$/.test(one) && one !== '.plot .rule');

  it('knows what is drawn in plots', () => {
    expect(drawn).toEqual(expect.arrayContaining(['.plot .range', '.plot .mark', '.plot .bound']));
  });

  it.each(drawn)('%s', (selector) => {
    const [stroke, fill] = [said(selector, 'stroke'), said(selector, 'fill')];
    const painted = stroke ?? fill;
    for (const ground of grounds)
      expect(contrast(colourIn(painted, colours), ground)).toBeGreaterThanOrEqual(LEAST);
  });

  it('what is drawn on a band stands out from it', () => {
    const opacity = Number(said('.plot .range', 'fill-opacity'));
    const band = laidOver(colourIn(said('.plot .range', 'fill'), colours), colours.paper, opacity);
    for (const [selector, property] of [
      ['.plot .range', 'stroke'],
      ['.plot .mark', 'stroke'],
      ['.plot .bound', 'stroke'],
      ['.plot .middle', 'stroke'],
      ['.plot .grown', 'stroke'],
      ['.plot .flag', 'fill'],
    ] as const)
      expect(contrast(colourIn(said(selector, property), colours), band), selector).toBeGreaterThanOrEqual(
        LEAST,
      );
  });
});

it('the icon is told from a dark bar by its edge, from a light one by its disc, by 3 to 1 (WCAG 2.2, 1.4.11)', () => {
  const [, disc, edge, width] = /<circle[^>]*fill="(#\w{6})" stroke="(#\w{6})" stroke-width="(\d+)"/.exec(
    ICON,
  )!;
  for (const bar of ['#000000', '#202124', '#3c4043', '#606060'])
    expect(contrast(edge!, bar), bar).toBeGreaterThanOrEqual(LEAST);
  for (const bar of ['#ffffff', '#dee1e6', '#b0b0b0'])
    expect(contrast(disc!, bar), bar).toBeGreaterThanOrEqual(LEAST);
  expect(contrast(edge!, disc!)).toBeGreaterThanOrEqual(LEAST);
  // A pixel at least, where the icon is 16 of them wide.
  expect((Number(width) * 16) / 32).toBeGreaterThanOrEqual(1);
});
