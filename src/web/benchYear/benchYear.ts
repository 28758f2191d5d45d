import { html } from 'hono/html';
import {
  type Compared,
  compared,
  lastMonths,
  sumsOf,
  type TooFew,
  VISIT_GROUPS,
} from '../../core/ledger/benchYear.js';
import { type BenchYear, getBenchYear } from '../../flow/due/benchYear.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import { percentText } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import { type BothShares, sharesPlot } from '../plots/sharesPlot.js';
import { usedPlot } from '../plots/usedPlot.js';
import { visitsPlot } from '../plots/visitsPlot.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

/** What was serviced here, how far its hours had run, and whether that is better since reminders go. */
export function benchYearPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/findings/year', async (c) => {
    const viewer = c.get('viewer');
    const { benchYear: says } = viewer.texts;
    const year = await store.read((tx) => getBenchYear(tx, viewer.now));
    return c.html(
      page(viewer, {
        title: says.title,
        current: 'year',
        body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
${year.visits.length === 0 ? nextStep(says.nothing, '/bench', viewer.texts.today.toBench) : yearMarkup(viewer, year)}`,
      }),
    );
  });
}

const yearMarkup = (viewer: Viewer, year: BenchYear): Markup => html`
<h2>${viewer.texts.benchYear.question}</h2>
${answerMarkup(viewer, year)}
${groupTable(viewer, year)}
${usedPlot(year.visits, year.begunOn, viewer)}
${visitsPlot(lastMonths(year.visits, viewer.today), viewer)}
${viewer.texts.benchYear.how.map((text) => html`<p class="soft">${text}</p>`)}
${listLink(viewer, 'bench', {}, viewer.texts.benchYear.file)}`;

const isTold = (one: Compared | TooFew): one is Compared => 'verdict' in one;

function answerMarkup(viewer: Viewer, { begunOn, groups, notCome }: BenchYear): Markup {
  const { benchYear: says } = viewer.texts;
  if (begunOn === null) return html`<p>${says.notBegun}</p>`;
  const [before, since] = [sumsOf(groups.before), sumsOf(groups.since)];
  const measured = (['dark', 'over'] as const).map((what) => ({
    what,
    said: compared(before[what], since[what]),
  }));
  const told = measured.flatMap(({ what, said }): BothShares[] =>
    isTold(said) ? [{ what, before: said.before, since: said.since }] : [],
  );
  return html`<p>${says.begun(viewer.words.day(begunOn, viewer.today))}</p>
${measured.map(({ what, said }) => measureMarkup(viewer, what, said))}
${when(notCome > 0, () => html`<p>${says.notCome(notCome)}</p>`)}
${when(told.length > 0, () => sharesPlot(told, viewer))}`;
}

function measureMarkup(viewer: Viewer, what: 'dark' | 'over', said: Compared | TooFew): Markup {
  const { benchYear: says } = viewer.texts;
  const measure = says.measures[what];
  const points = (share: number): string => viewer.words.number(Math.round(100 * share));
  if (isTold(said)) {
    const { before, since, change, verdict } = said;
    return html`<p><strong>${measure[verdict](percentText(before.share, viewer), percentText(since.share, viewer))}</strong> ${says.change(points(change.low), points(change.high))}</p>`;
  }
  const { missing } = said;
  return html`<p>${measure.tooFew} ${says.missing(missing.before, missing.since)}${when(missing.before > 0, () => html` ${says.lateOnly}`)}</p>`;
}

function groupTable(viewer: Viewer, { groups }: BenchYear): Markup {
  const { benchYear: says } = viewer.texts;
  const { columns } = says;
  const { words } = viewer;
  return table(
    [
      { label: columns.group },
      { label: columns.visits, isFigure: true },
      { label: columns.middle, isFigure: true },
      { label: columns.over, isFigure: true },
      { label: columns.dark, isFigure: true },
    ],
    VISIT_GROUPS.filter((group) => groups[group].length > 0).map((group) => {
      const { visits, middleShare, over, dark } = sumsOf(groups[group]);
      return {
        head: html`<b>${says.groups[group]}</b>`,
        cells: [
          html`${words.number(visits)}`,
          html`${middleShare === null ? '' : percentText(middleShare, viewer)}`,
          ...[over, dark].map(({ hits, of }) =>
            of === 0 ? html`` : html`${says.of(words.number(hits), words.number(of))}`,
          ),
        ],
      };
    }),
  );
}
