import { html } from 'hono/html';
import type { LookField } from '../../../core/ledger/findings.js';
import type { ShownLine } from '../../../core/ledger/sheet.js';
import { partsOfLine } from '../../../core/ledger/sheet.js';
import { stopWords } from '../../../core/plan/atHome.js';
import { type GuidePart, homeGuide } from '../../../core/plan/homeGuide.js';
import type { HomePage } from '../../../flow/home/atHome.js';
import { cautionsFor } from '../../cells/cautionsFor.js';
import { lookText } from '../../looks/looks.js';
import { type Markup, when } from '../../markup.js';
import type { RiderView } from '../riderPage.js';

const BOX = html`<span class="box"></span>`;
const FILL = html`<span class="fill"></span>`;

/**
 * Returns the way through a job at home, cautions first, then in the order of the bench card. Figures stand here as far as
 * the workshop typed them; no other is stated.
 */
export function guideMarkup(view: RiderView, page: HomePage): Markup {
  const { voice, texts, workshop } = view;
  const { home } = texts;
  const { card } = voice.texts.paper;
  const own = (page.job?.stopHere ?? '').split('\n').filter((line) => line !== '');
  return html`
<section class="caution"><h2>${voice.texts.caution.title}</h2>
<p>${cautionsFor(page.unit)
    .map((of) => card.caution[of])
    .join(' ')}</p>
<p><strong>${card.levels[0]}</strong></p><p>${card.levels[1]}</p><p>${card.counts}</p></section>
<section class="caution"><h2>${home.stopTitle}</h2><ul>${own.map((line) => html`<li>${line}</li>`)}</ul>
<p>${home.stopHow} ${texts.call(workshop.phone, workshop.email)}</p></section>
<p><strong>${home.manualFirst}</strong></p>
${homeGuide(page.unit).map((part) => partMarkup(view, page, part))}
${typed(view, page)}`;
}

const partMarkup = (view: RiderView, page: HomePage, { step, deeds, looks }: GuidePart): Markup => {
  const { home } = view.texts;
  const looked = html`<ul class="plain looks">${looks.map((one) => look(view, one))}</ul>`;
  const done = html`<ol>${deeds.map(
    ({ deed, figures }) =>
      html`<li>${home.deeds[deed]}${page.sheet.lines
        .filter(({ name }) => figures.includes(name))
        .map((line) => html`<br><b>${figureText(view, line)}</b>`)}</li>`,
  )}</ol>`;
  // Before it is opened, and once it is closed, the looks come after the work; inside they are what the work is for.
  return html`<h2>${view.voice.texts.looks.steps[step]}</h2>${done}${looked}`;
};

function look({ voice, texts }: RiderView, field: LookField): Markup {
  const { name, how, looks } = field;
  const label = voice.texts.looks.names[name];
  if (how === 'tick') return html`<li class="line"><span class="boxed">${BOX}${label}</span></li>`;
  const stops = stopWords(field);
  const boxes = looks.map((one) => html`<span class="boxed">${BOX}${lookText(voice, name, one)}</span> `);
  const words = stops.map((one) => lookText(voice, name, one));
  return html`<li class="line"><b>${label}:</b> <span>${boxes}${when(stops.length > 0, () => html`<br><strong>${texts.home.stopIf(voice.words.list(words))}</strong>`)}</span>${when(looks.length === 0, () => FILL)}</li>`;
}

const figureText = ({ voice }: RiderView, { name, value }: Pick<ShownLine, 'name' | 'value'>): string => {
  const { sides, whats } = voice.texts.sheets;
  const { side, what } = partsOfLine(name);
  return `${sides[side]}: ${whats[what]} ${value}`;
};

/** All that was typed from the manual, with which edition. */
function typed(view: RiderView, { sheet, spec }: HomePage): Markup {
  const { voice } = view;
  const { card } = voice.texts.paper;
  const others = Object.entries(spec);
  const edition = (sheet.model ?? sheet.own)?.edition ?? null;
  if (sheet.lines.length + others.length === 0) return html`<h2>${card.manual}</h2><p>${card.lookUp}</p>`;
  return html`<h2>${card.manual}</h2><ul>${sheet.lines.map((line) => html`<li>${figureText(view, line)}</li>`)}${others.map(([name, value]) => html`<li>${name}: ${value}</li>`)}</ul>
<p>${edition === null ? '' : `${voice.texts.sheets.editionOf(edition)} `}${card.lookUpRest}</p>`;
}
