import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import type { RereadChange } from '../../core/ledger/facts.js';
import type { Today } from '../../flow/due/today.js';
import { hoursOfSeconds, hoursOfThousandths, seconds, thousandths } from '../../units.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { type Markup, NOTHING, table, when } from '../markup.js';
import type { Viewer } from '../viewer.js';

/** Returns how far the kept files are read again by a new reader, and what that changed; nothing where neither is so. */
export function rereadMarkup(
  viewer: Viewer,
  { toReread, reread }: Pick<Today, 'toReread' | 'reread'>,
): Markup {
  const { texts, words, zone, today } = viewer;
  const { reread: says } = texts.today;
  if (toReread === 0 && reread === null) return NOTHING;
  return html`<h2>${says.title}</h2>
${when(toReread > 0, () => html`<p>${says.left(words.number(toReread))}</p>`)}
${
  reread === null
    ? NOTHING
    : html`<p>${says.done(words.number(reread.files), words.day(dayOf(reread.at, zone), today))} ${
        reread.changed === 0 ? says.nothing : says.changed(words.number(reread.changed))
      }${when(reread.lost > 0, () => html` ${says.lost(words.number(reread.lost))}`)}${when(
        reread.kept > 0,
        () => html` ${says.kept(words.number(reread.kept))}`,
      )}</p>
${when(reread.changes.length > 0, () =>
  table(
    [says.columns.unit, says.columns.service, says.columns.before, says.columns.after].map((label) => ({
      label,
    })),
    reread.changes.map((one) => ({
      head: html`<a href="${pathOfUnit(one.tag)}">${one.tag}</a>`,
      cells: [
        html`${words.serviceKind(one.serviceKind)}`,
        html`${hoursText(viewer, one.before)}`,
        html`${hoursText(viewer, one.after)}`,
      ],
    })),
  ),
)}`
}`;
}

/** Moving hours stand beside terrain hours. */
const hoursText = ({ words, texts }: Viewer, { movingS, terrainMs }: RereadChange['before']): string =>
  texts.today.reread.hours(
    words.hours(hoursOfSeconds(seconds(movingS))),
    words.hours(hoursOfThousandths(thousandths(terrainMs))),
  );
