import { html } from 'hono/html';
import { VERSION } from '../version.js';
import { type Markup, when } from './markup.js';
import { navigation, type PageName } from './navigation.js';
import { scriptPath } from './scripts.js';
import { STYLE_PATH } from './styles/style.js';
import type { Viewer, Voice } from './viewer.js';

interface Shell {
  readonly title: string;
  readonly house: string;
  readonly top: Markup | string;
  readonly body: Markup;
  /** What it is on paper, where the sheet is not the usual one. */
  readonly paper?: 'card' | 'book' | 'labels' | undefined;
  readonly foot: Markup | string;
  /** Where the scripts of the page are. */
  readonly scripts?: readonly string[];
  /** What a phone needs to put the page on its home screen. */
  readonly manifest?: string | undefined;
}

const shell = (
  { texts, words }: Voice,
  { title, house, top, body, foot, paper, scripts = [], manifest }: Shell,
): Markup => html`<!doctype html>
<html lang="${words.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title === house ? title : `${title} · ${house}`}</title>
<link rel="stylesheet" href="${STYLE_PATH}">
<link rel="expect" href="#content" blocking="render">
<link rel="icon" href="/icon.svg" type="image/svg+xml">
${when(manifest !== undefined, () => html`<link rel="manifest" href="${manifest}">`)}
${scripts.map((script) => html`<script type="module" src="${script}"></script>`)}
</head>
<body${paper === undefined ? '' : html` class="on-${paper}"`}>
<a class="skip" href="#content">${texts.skip}</a>
<header class="top"><div class="band"><p class="house">${house}</p>${top}</div></header>
<main id="content" tabindex="-1">
${body}
</main>
<footer class="foot"><p>${texts.foot}</p>${foot}</footer>
</body>
</html>`;

/** A page for somebody who is not signed in. */
export const barePage = (
  voice: Voice,
  title: string,
  body: Markup,
  house = 'Stanchion',
  top: Markup | string = '',
  kept: Pick<Shell, 'manifest' | 'scripts'> = {},
): Markup => shell(voice, { title, house, top, body, foot: '', ...kept });

/** The hidden field that shows a form to come from one of this session's own pages. */
export const formToken = ({ formToken: token }: Viewer): Markup =>
  html`<input type="hidden" name="token" value="${token}">`;

export interface Page {
  readonly title: string;
  readonly current?: PageName;
  readonly body: Markup;
  readonly paper?: Shell['paper'];
  /** What was looked for. */
  readonly sought?: string;
  /** Photographs are sent from it. */
  readonly takesPhotos?: boolean;
}

/** A page of the workshop. */
export function page(
  viewer: Viewer,
  { title, current, body, paper, sought = '', takesPhotos = false }: Page,
): Markup {
  const { texts, workshop, account } = viewer;
  const top = html`
${when(workshop !== null, () => findForm(viewer, sought))}
<form class="out" method="post" action="/sign-out">${formToken(viewer)}<button class="quiet">${texts.signOut}</button></form>
${when(workshop !== null, () => html`<div class="around">${navigation(viewer, current)}</div>`)}`;
  const foot = html`<form method="post" action="/sign-out-everywhere">${formToken(viewer)}<a href="/account">${account.name}</a>
<button class="quiet">${texts.signOutEverywhere}</button><span>Stanchion ${VERSION}</span></form>`;
  return shell(viewer, {
    title,
    house: workshop?.name ?? 'Stanchion',
    top,
    body,
    foot,
    paper,
    scripts: [
      scriptPath('findKey'),
      scriptPath('fillExample'),
      ...(takesPhotos ? [scriptPath('sendPhotos')] : []),
    ],
  });
}

/** The one field that finds anything, on every page. */
const findForm = ({ texts: { find } }: Viewer, sought: string): Markup => html`
<form class="find" method="get" action="/find" role="search"><label class="hidden" for="find-anything">${find.field}</label>
<input id="find-anything" name="q" type="search" value="${sought}" placeholder="${find.field}" autocomplete="off" aria-keyshortcuts="/"><button>${find.button}</button></form>`;

/** A form that leads to opening a unit, with what everybody must know beside it. */
export const besideCautions = (voice: Voice, form: Markup): Markup =>
  html`<div class="beside-cautions">${cautions(voice)}${form}</div>`;

/** What everybody must know who opens a unit. */
export const cautions = ({ texts }: Voice): Markup => html`
<section class="caution"><h2>${texts.caution.title}</h2><ul>${texts.caution.items.map((item) => html`<li>${item}</li>`)}</ul></section>`;
