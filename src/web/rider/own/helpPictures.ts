/** Drawings of our own for the rider's help: how rides get here, what counts, what the numbers mean. */
import { html } from 'hono/html';
import { DEFAULT_WEIGHTS } from '../../../core/ledger/weight.js';
import { GROUNDS } from '../../../core/tokens.js';
import type { RiderTexts } from '../../../languages/index.js';
import type { Markup } from '../../markup.js';
import type { Voice } from '../../viewer.js';

type Says = RiderTexts['own']['help']['pictures'];

const WIDTH = 340;
/** Of the bar that stands for an hour. */
const HOUR_WIDTH = 64;

const picture = (title: string, height: number, body: Markup): Markup =>
  html`<figure class="plot"><svg class="day" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="${title}">${body}</svg><figcaption>${title}</figcaption></figure>`;

const text = (x: number, y: number, says: string): Markup =>
  html`<text x="${x}" y="${y}" text-anchor="middle" fill="currentColor">${says}</text>`;

const line = (d: string): Markup => html`<path d="${d}" fill="none" stroke="currentColor" stroke-width="2"/>`;

/** An arrow from left to right. */
const arrow = (x: number, y: number, to: number): Markup => line(`M${x} ${y}H${to}m-7-5l7 5l-7 5`);

/** A recorder, a phone or a cable between, and the page. */
export const waysPicture = ({ ways }: Says): Markup =>
  picture(
    ways.title,
    130,
    html`${line('M22 42h46v60h-46zM30 50h30v26h-30zM32 88h8M50 88h8')}${text(45, 122, ways.recorder)}
${line('M150 10h26v44h-26zM158 48h10')}${text(214, 36, ways.phone)}
${line('M150 92c10-14 16 14 26 0')}${text(163, 116, ways.cable)}
${arrow(76, 62, 142)}${line('M76 82L142 92')}
${arrow(184, 62, 262)}${line('M184 92L262 82')}
${line('M270 36h54v66h-54zM278 50h38M278 62h38M278 74h24')}${text(297, 122, ways.page)}`,
  );

/** The hours of a day side by side; what moved under its rider is filled. */
export const countsPicture = ({ counts }: Says): Markup => {
  const parts = [
    [counts.car, 50, false],
    [counts.ride, 70, true],
    [counts.break, 40, false],
    [counts.ride, 60, true],
    [counts.lift, 70, false],
    [counts.ride, 50, true],
  ] as const;
  let x = 0;
  const blocks = parts.map(([says, width, isCounted]) => {
    const from = x;
    x += width;
    return html`<rect x="${from + 1}" y="34" width="${width - 2}" height="30" fill="${isCounted ? 'currentColor' : 'none'}" stroke="currentColor" stroke-width="1.5"/>${text(from + width / 2, isCounted ? 26 : 82, says)}${isCounted ? text(from + width / 2, 82, counts.counted) : ''}`;
  });
  return picture(counts.title, 92, html`${blocks}`);
};

/** The shape of the ground above, and how long an hour on it is. */
export function groundPicture({ ground }: Says, words: Voice['words']): Markup {
  const shapes = {
    smooth: 'q12-4 24 0t24 0t24 0',
    typical: 'l8-8l10 10l10-12l12 12l10-8l12 8l10-4',
    rough: 'l6-16l6 18l8-22l8 24l8-20l8 18l8-22l8 20l6-6',
  } as const;
  const rows = GROUNDS.map((one, i) => {
    const y = 24 + i * 40;
    const weight = DEFAULT_WEIGHTS[one];
    return html`<text x="4" y="${y + 4}" fill="currentColor">${words.ground[one]}</text>${line(`M64 ${y}${shapes[one]}`)}<rect x="160" y="${y - 8}" width="${weight * HOUR_WIDTH}" height="14" fill="currentColor"/><text x="${166 + weight * HOUR_WIDTH}" y="${y + 4}" fill="currentColor">${words.hours(weight)}</text>`;
  });
  return picture(ground.title, 132, html`${rows}`);
}
