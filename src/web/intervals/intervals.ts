import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import { type AddedServiceKind, serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { UNIT_KINDS } from '../../core/tokens.js';
import { getIntervalsPage, type ListedRule } from '../../flow/facts/intervalsPage.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { columnsOf, type Markup, type Row, said, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { byText, usualCeilings } from '../show.js';
import type { Viewer } from '../viewer.js';
import { defaultLimits, pathOfRule, scopeText } from './intervalScope.js';

export function intervalsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/intervals', async (c) => {
    const viewer = c.get('viewer');
    const { rules, added } = await store.read(getIntervalsPage);
    const { saved, unchanged } = c.req.query();
    const { texts } = viewer;
    return c.html(
      page(viewer, {
        title: texts.intervals.title,
        current: 'intervals',
        body: html`
<h1>${texts.intervals.title}</h1>
<p class="lead">${texts.intervals.lead}</p>
<p>${texts.intervals.how}</p>
<p class="screen"><a href="/sheets">${texts.sheets.link}</a></p>
${when(saved !== undefined, () => said(texts.intervals.saved, 'status'))}
${when(unchanged !== undefined, () => said(texts.intervals.unchanged, 'status'))}
${kindTable(viewer, rules, added)}
${narrowTable(viewer, rules.filter(isNarrow))}
<p class="soft">${texts.severityNote}</p>`,
      }),
    );
  });
}

const isNarrow = ({ scope }: ListedRule): boolean =>
  scope.unitId !== null || scope.model !== null || scope.fleetId !== null;

function kindTable(viewer: Viewer, rules: readonly ListedRule[], added: readonly AddedServiceKind[]): Markup {
  const rows = UNIT_KINDS.flatMap((unitKind) =>
    serviceKindsOf({ unitKind }, added).map((terms): ListedRule => {
      const own = rules.find(
        (rule) => rule.unitKind === unitKind && rule.serviceKind === terms.name && !isNarrow(rule),
      );
      const scope = { unitId: null, model: null, fleetId: null };
      const address = {
        unitKind,
        serviceKind: terms.name,
        scope,
        unitTag: null,
        fleetHandle: null,
        fleetName: null,
      };
      return own ?? { ...address, limits: defaultLimits(terms), fact: null };
    }),
  );
  return table(
    headsOf(viewer, viewer.texts.intervals.columns.kind),
    rows.map((rule) => rowOf(viewer, rule, viewer.words.unitKind[rule.unitKind])),
  );
}

const narrowTable = (viewer: Viewer, rules: readonly ListedRule[]): Markup =>
  when(
    rules.length > 0,
    () => html`
<h2>${viewer.texts.intervals.narrowTitle}</h2>
<p class="lead">${viewer.texts.intervals.narrowLead}</p>
${table(
  headsOf(viewer, viewer.texts.intervals.columns.for),
  rules.map((rule) => rowOf(viewer, rule, scopeText(rule, viewer))),
)}`,
  );

const headsOf = ({ texts: { intervals } }: Viewer, first: string) => {
  const { service, terrain, months, ceiling, by, change } = intervals.columns;
  return columnsOf([first, service, terrain, months, ceiling, by, change], [terrain, months], [change]);
};

function rowOf(viewer: Viewer, rule: ListedRule, head: string): Row {
  const { texts, words, zone, today } = viewer;
  const { terrainHours, months } = rule.limits;
  const none = texts.intervals.none;
  const service = words.serviceKind(rule.serviceKind);
  const by =
    rule.fact === null
      ? texts.intervals.isDefault
      : texts.intervals.setBy(
          byText(viewer, rule.fact.recordedBy),
          words.day(dayOf(rule.fact.recordedAt, zone), today),
        );
  return {
    head: html`<b>${head}</b>`,
    cells: [
      html`${service}`,
      html`${terrainHours === null ? none : words.hours(terrainHours)}`,
      html`${months === null ? none : words.counted(months, 'month')}`,
      html`${ceilingText(viewer, rule)}`,
      html`${by}`,
      html`<a href="${pathOfRule(rule)}" aria-label="${texts.intervals.change}${texts.intervals.changeOf(head, service)}">${texts.intervals.change}</a>`,
    ],
  };
}

function ceilingText({ texts, words }: Viewer, { limits, ...rule }: ListedRule): string {
  const { movingHoursCeiling, ...others } = limits;
  if (movingHoursCeiling !== 'default')
    return movingHoursCeiling === null ? texts.intervals.none : words.hours(movingHoursCeiling);
  const { after, under } = usualCeilings({ ...rule, ...others });
  if (after === null || under === null) return texts.intervals.none;
  return texts.intervals.ceilingUsual(words.hours(after), words.hours(under));
}
