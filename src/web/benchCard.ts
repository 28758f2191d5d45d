import { html } from 'hono/html';
import type { Fact } from '../core/facts.js';
import type { PartUse } from '../core/parts.js';
import type { ServiceKind } from '../core/tokens.js';
import type { ForeseenUnit } from '../flow/foreseen.js';
import { hoursOfSeconds, hoursOfThousandths } from '../units.js';
import { FINDINGS, RINGS } from './benchWork.js';
import { jobText } from './bookMarkup.js';
import type { Markup } from './markup.js';
import { useText } from './planCells.js';
import { limitsText } from './show.js';
import type { Viewer } from './viewer.js';

export interface CardJob {
  readonly one: ForeseenUnit;
  readonly serviceKind: ServiceKind;
  readonly parts: readonly PartUse[];
  readonly lastService: Fact<'service'> | null;
  /** Oils, volumes, torques and pressures as the workshop typed them for this unit. */
  readonly spec: Readonly<Record<string, string>>;
  /** Whose it is. */
  readonly owner: string | null;
}

/**
 * Returns a card that goes with a unit to the bench, of the size of A5 on paper. It has room for what the maker's manual
 * says and states no oil, torque or pressure of its own.
 */
export function benchCard(
  viewer: Viewer,
  { one, serviceKind, parts, lastService, owner, spec }: CardJob,
): Markup {
  const { texts, words, today } = viewer;
  const { card } = texts.plan;
  const { unit, bike, foreseen } = one;
  const kind = `${words.unitKind[unit.unitKind]}${unit.model === null ? '' : `, ${unit.model}`}`;
  const where = [bike?.name ?? texts.due.noBike, owner, unit.serial].filter((text) => text !== null);
  const standing = foreseen.find((row) => row.standing.serviceKind === serviceKind)?.standing;
  const last = lastService
    ? `${words.day(lastService.body.on, today)}, ${jobText(viewer, lastService.body.serviceKind)}${lastService.body.note === null ? '' : `, ${lastService.body.note}`}`
    : card.lastNone;
  const facts: [string, string][] = [
    ...(standing
      ? ([
          [card.since, sinceText(viewer, standing)],
          [card.interval, limitsText(standing.interval, viewer)],
        ] as [string, string][])
      : []),
    [card.last, last],
    [card.takes, words.list(parts.map((use) => useText(use, viewer)))],
    ...Object.entries(spec),
  ];
  return html`
<section class="card">
<h3>${unit.tag}: ${jobText(viewer, serviceKind)}</h3>
<p>${kind}. ${where.join('. ')}.</p>
<p><strong>${card.caution}</strong></p>
<dl class="facts">${facts.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>
<p><b>${card.found}</b></p>
<ul class="looks">${FINDINGS[unit.unitKind].map((name) => html`<li class="line">${texts.unit.finding[name] ?? name}: ${name === 'foamRings' ? ringBoxes(viewer) : FILL}</li>`)}</ul>
<p class="line">${card.byHand}: ${FILL}</p>
<p class="line">${FILL}</p>
<p class="line">${card.who}: ${FILL}</p>
</section>`;
}

const FILL = html`<span class="fill"></span>`;

const sinceText = (
  { texts, words }: Viewer,
  { terrainMs, movingS }: ForeseenUnit['foreseen'][number]['standing'],
): string =>
  texts.plan.card.hours(words.hours(hoursOfThousandths(terrainMs)), words.hours(hoursOfSeconds(movingS)));

const ringBoxes = ({ texts }: Viewer): Markup =>
  html`${RINGS.map((ring) => html`<span class="nobr"><span class="box"></span>${texts.unit.rings[ring] ?? ring}</span> `)}`;
