import { html } from 'hono/html';
import type { Markup } from '../markup.js';

/** Where a picture is drawn, for its kind of screen. Units: pixels. */
export interface Area {
  readonly name: 'wide' | 'slim';
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** About so many labels stand across. */
  readonly ticks: number;
}

interface Size extends Area {
  readonly width: number;
  readonly height: number;
}

const SIZES: readonly Size[] = [
  { name: 'wide', width: 760, height: 280, left: 60, right: 748, top: 30, bottom: 236, ticks: 9 },
  { name: 'slim', width: 350, height: 260, left: 60, right: 338, top: 30, bottom: 216, ticks: 4 },
];

/** A label at its place on an axis. */
interface Tick {
  readonly at: number;
  readonly label: string;
}

/** What a figure says in words, to eyes and to ears. */
interface FigureSaid {
  readonly title: string;
  /** Everything that is drawn, in words. */
  readonly says: string;
  /** What an axis counts, with its unit. */
  readonly up: string;
  /** Null where each label across names its own. */
  readonly across: string | null;
  readonly legend: readonly Markup[];
}

interface Drawn {
  readonly rows: readonly Tick[];
  readonly columns: readonly Tick[];
  readonly marks: Markup;
}

/** Returns a plot as a figure: its title, a picture for each kind of screen between named axes, and its legend. */
export const plotFigure = (said: FigureSaid, draw: (area: Area) => Drawn): Markup =>
  html`<figure class="plot"><figcaption>${said.title}</figcaption>
${SIZES.map((size) => picture(size, said, draw(size)))}
<ul class="legend">${said.legend.map((line) => html`<li>${line}</li>`)}</ul></figure>`;

function picture(
  size: Size,
  { title, says, up, across }: FigureSaid,
  { rows, columns, marks }: Drawn,
): Markup {
  const { name, width, height, left, right, bottom } = size;
  return html`<svg class="${name}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${title}. ${says}">
<text x="0" y="14">${up}</text>
${rows.map(
  ({ at, label }) => html`<path class="rule" d="M${left} ${px(at)}H${right}"/>
<text x="${left - 8}" y="${px(at + 4)}" text-anchor="end">${label}</text>`,
)}
${columns.map(
  ({ at, label }) =>
    html`<path class="rule" d="M${px(at)} ${bottom}v5"/><text x="${px(at)}" y="${bottom + 18}" text-anchor="middle">${label}</text>`,
)}
${across === null ? '' : html`<text x="${right}" y="${height - 6}" text-anchor="end">${across}</text>`}
${marks}
</svg>`;
}

/** A tenth of a pixel is finer than any screen. */
export const px = (value: number): string => String(Math.round(10 * value) / 10);

const LINES = { grown: 'M0 10L24 2', mark: 'M0 6H24', bound: 'M0 6H24', middle: 'M0 6H24' } as const;

/** Returns a line of a legend: what is drawn, and what it means. */
export const legendLine = (drawn: keyof typeof LINES, text: string): Markup =>
  html`<svg width="24" height="12" aria-hidden="true"><path class="${drawn}" d="${LINES[drawn]}"/></svg>${text}`;

export const legendBox = (drawn: 'range' | 'flag', text: string): Markup =>
  html`<svg width="18" height="12" aria-hidden="true"><rect class="${drawn}" width="18" height="12"/></svg>${text}`;

export const legendDot = (drawn: 'dot' | 'dot dark', text: Markup): Markup =>
  html`<svg width="12" height="12" aria-hidden="true"><circle class="${drawn}" cx="6" cy="6" r="4"/></svg>${text}`;
