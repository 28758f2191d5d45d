import { describe, expect, it } from 'vitest';
import { STYLE, TONE } from '../../src/mail/letterStyle.js';
import { CORNER, DARK, HEAD_TYPE, LIGHT, TEXT_TYPE } from '../../src/palette.js';
import { STYLE as PAGE_STYLE } from '../../src/web/styles/style.js';
import { contrast } from '../contrast.js';

const colourIn = (style: string, property: string): string => {
  const found = new RegExp(`(?:^|[;{])${property}:(#[0-9a-f]{6})`).exec(style)?.[1];
  if (found === undefined) throw new Error(`no ${property} in ${style}`);
  return found;
};
const dark = (name: string): string =>
  new RegExp(`\\.${name}(\\{[^}]*#[^}]*\\})`).exec(STYLE.toString().split('dark){')[1] ?? '')?.[1] ?? '';

it('knows the contrast of black on white and of a colour on itself', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#0d5560', '#0d5560')).toBe(1);
});

describe('every text stands out by 4.5 to 1 (WCAG 2.2, 1.4.3)', () => {
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

describe('mails and pages are one product', () => {
  const said = (styles: string, property: string): string[] => [
    ...new Set([...styles.matchAll(new RegExp(`\\b${property}:([^;}"]+)`, 'g'))].map(([, value]) => value!)),
  ];
  const inMails = Object.values(TONE).join(';');
  const dark = STYLE.toString().split('dark){')[1]!;

  it('share their colours, and neither has one of its own', () => {
    const used = (styles: string): string[] => [...new Set(styles.match(/#[0-9a-f]{3,6}\b/g))];
    const [light, night] = [Object.values(LIGHT), Object.values(DARK)];
    expect(used(inMails).filter((colour) => !light.includes(colour))).toEqual([]);
    expect(used(dark).filter((colour) => !night.includes(colour))).toEqual([]);
    const [screen, paper] = [PAGE_STYLE.split(/@media print\{/)[0]!, ['#fff', '#000', '#999']];
    expect(used(screen).filter((colour) => ![...light, ...night].includes(colour))).toEqual([]);
    expect(used(PAGE_STYLE).filter((colour) => ![...light, ...night, ...paper].includes(colour))).toEqual([]);
    expect(used(inMails).length).toBeGreaterThan(5);
  });

  it('share their type and their corners', () => {
    expect(said(inMails, 'font-family').sort()).toEqual([HEAD_TYPE, TEXT_TYPE].sort());
    expect(PAGE_STYLE).toContain(`--text:${TEXT_TYPE};`);
    expect(PAGE_STYLE).toContain(`--head:${HEAD_TYPE}}`);
    expect(said(inMails, 'border-radius')).toEqual([CORNER]);
    expect(said(PAGE_STYLE, 'border-radius')).toEqual([CORNER]);
  });
});
