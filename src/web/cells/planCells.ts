import { html } from 'hono/html';
import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { type PartUse, setNameOf } from '../../core/plan/parts.js';
import { UNIT_KINDS } from '../../core/tokens.js';
import { numberFormat } from '../../languages/formats.js';
import { type Markup, NOTHING } from '../markup.js';
import type { Viewer, Voice } from '../viewer.js';

export type PlanPage = keyof Viewer['texts']['plan']['pages'];

const PATHS: Readonly<Record<PlanPage, string>> = {
  bench: '/bench',
  day: '/day',
  load: '/load',
  races: '/races',
  fleets: '/fleets',
  findings: '/findings',
};

export const pathOfFleet = (handle: string): string => `/fleets/${encodeURIComponent(handle)}`;

/** The way between the pages of the plan. */
export const planPages = ({ texts, fleet }: Viewer, current: PlanPage): Markup =>
  fleet !== null
    ? NOTHING
    : html`
<nav class="within" aria-label="${texts.nav.plan}"><ul>${(Object.entries(PATHS) as [PlanPage, string][]).map(
        ([name, path]) =>
          html`<li><a href="${path}"${name === current ? html` aria-current="page"` : ''}>${texts.plan.pages[name]}</a></li>`,
      )}</ul></nav>`;

export const percentText = (share: number, { words }: Voice): string =>
  numberFormat(words.locale, { style: 'percent', maximumFractionDigits: 0 }).format(share);

export const minutesText = (minutes: number, { texts, words }: Voice): string =>
  texts.plan.load.minutes(words.number(Math.round(minutes)));

/** Returns a part as typed; a set that stands where nothing was typed is named in the page's words. */
export function partText(part: string, { texts, words }: Voice): string {
  for (const unitKind of UNIT_KINDS) {
    for (const { name } of serviceKindsOf({ unitKind }, [])) {
      if (part === setNameOf(unitKind, name))
        return texts.plan.load.setOf(words.unitKind[unitKind], words.serviceKind(name));
    }
  }
  return part;
}

export const amountText = ({ count, measure }: Omit<PartUse, 'part'>, { texts, words }: Voice): string =>
  measure === 'ml' ? texts.plan.load.millilitres(words.number(count)) : words.number(count);

export const useText = (use: PartUse, voice: Voice): string =>
  `${amountText(use, voice)}${use.measure === 'ml' ? ' ' : '\u00a0×\u00a0'}${partText(use.part, voice)}`;
