import { html } from 'hono/html';
import { groupBy } from '../../core/groupBy.js';
import { type LookField, lookFields, STEPS } from '../../core/ledger/findings.js';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { partsOfLine } from '../../core/ledger/sheet.js';
import type { SetUpField } from '../../core/plan/setUp.js';
import type { Card } from '../../flow/plan/card.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { foundText } from '../book/bookMarkup.js';
import { cautionsFor } from '../cells/cautionsFor.js';
import { declaredPart } from '../cells/declaredFields.js';
import { small } from '../cells/dueCells.js';
import { pathOfPhoto, photoStrip } from '../cells/photoCells.js';
import { useText } from '../cells/planCells.js';
import { ageLines, lookText } from '../looks/looks.js';
import { columnsOf, type Markup, NOTHING, soft, table, when } from '../markup.js';
import { whoText } from '../sheets/sheet.js';
import { datedText, knownText, limitsText } from '../show.js';
import type { Viewer } from '../viewer.js';

/**
 * Returns a card that goes with a unit to the bench, one sheet of A4, in the order of the work. What the maker's manual
 * says stands on it as far as somebody typed it; it states no oil, torque or pressure of its own.
 */
export function benchCard(viewer: Viewer, card: Card): Markup {
  const { texts, words } = viewer;
  const { card: says } = texts.paper;
  const { unit, bike } = card.one;
  const fields = lookFields(unit, card.secondLook);
  const kind = `${words.unitKind[unit.unitKind]}${unit.model === null ? '' : `, ${unit.model}`}`;
  const serial = unit.serial === null ? null : `${texts.unit.serial} ${unit.serial}`;
  const whose = [bike?.name ?? texts.due.noBike, card.owner].filter((text) => text !== null).join(', ');
  return html`
<section class="card">
<header><h2>${unit.tag}</h2>
<p>${kind}${when(serial !== null, () => html`<br>${serial}`)}</p>
<p><b>${whose}</b></p></header>
${when(card.mark !== null, () => html`<p class="stop"><strong>${says.stop(card.mark!.body.why)}</strong></p>`)}
<p class="jobs"><b>${says.job}:</b> ${jobsOf(unit, card.addedKinds).map(
    (job) =>
      html`<span class="boxed">${job === card.job || card.beside.includes(job) ? TICKED : BOX}${viewer.words.serviceKind(job)}</span> `,
  )}${visitNote(viewer, card)}</p>
${when(
  card.parts.length > 0,
  () =>
    html`<p class="jobs"><b>${says.takes}:</b> ${card.parts.map((use) => html`<span class="boxed">${BOX}${useText(use, viewer)}</span> `)}</p>`,
)}
${when(hadDarkRings(card), () => html`<p class="dark"><strong>${says.darkRings}</strong></p>`)}
${card.advised.map(({ to, why, on }) => html`<p class="jobs"><b>${texts.bench.question.advised(words.serviceKind(to), datedText(on, viewer), why)}</b></p>`)}
${when(isUnknown(card), () => html`<p class="jobs"><b>${says.inspect}</b></p>`)}
<p class="warn">${cautionsFor(unit)
    .map((of) => says.caution[of])
    .join(' ')}<br>${says.levels[0]}<br>${says.levels[1]} ${says.counts}</p>
${hours(viewer, card)}
<div class="halves"><div>
<h3>${says.last}</h3>
${lastServices(viewer, card)}
<dl class="facts">${ageLines(viewer, card.ages).map(([part, age]) => html`<dt>${part}</dt><dd>${age}</dd>`)}</dl>
</div><div>
${manual(viewer, card)}
</div></div>
${STEPS.map((step) => html`<h3>${texts.looks.steps[step]}</h3><ul class="plain looks ${step}">${fields.filter((one) => one.step === step).map((one) => look(viewer, one))}</ul>`)}
${when(card.setUp !== null, () => html`<p class="jobs"><b>${texts.setUp.setBack}</b> (${datedText(card.setUp!.on, viewer)}): ${Object.entries(card.setUp!.values).map(([name, value]) => html`<span class="boxed">${texts.setUp.fields[name as SetUpField] ?? name} <b>${value}</b></span> `)}</p>`)}
<h3>${says.notes}</h3>
<div class="notes"><div>${NOTE_LINES.map(() => html`<p class="line">${FILL}</p>`)}</div></div>
<p class="line sign">${says.who} ${FILL} ${says.on} ${FILL} ${says.signature} ${FILL}
<small>${texts.paper.printed(datedText(viewer.today, viewer), viewer.account.name)}</small></p>
</section>${photoSheet(viewer, card)}`;
}

/** What was photographed now and at the last services, on a second sheet; none where nothing was. */
function photoSheet(viewer: Viewer, { photos, one: { unit } }: Card): Markup {
  const latest = [...photos].reverse().slice(0, MOST_PHOTOS_SHOWN);
  const strip = photoStrip(viewer, latest, ({ id }) => pathOfPhoto(unit.tag, id));
  return when(
    photos.length > 0,
    () =>
      html`<section class="card seen"><header><h2>${unit.tag}</h2><p>${viewer.texts.photos.title}</p></header>${strip}</section>`,
  );
}

/** As many as a sheet has room for. */
const MOST_PHOTOS_SHOWN = 12;

/** Why the larger job stands here in place of a smaller one, in hours. */
const visitNote = ({ texts, words }: Viewer, { because }: Card): Markup =>
  when(because !== null, () => html`<br>${texts.looks.inPlace(words.because(because!))}`);

/** Nobody knows what it needs before it is opened. */
const isUnknown = ({ one }: Card): boolean =>
  one.foreseen.length > 0 && one.foreseen.every(({ standing }) => standing.state === 'history-unknown');

/** Whether the rings were dark when somebody last looked. */
const hadDarkRings = ({ services }: Card): boolean =>
  services.find(({ body }) => body.findings?.foamRings !== undefined)?.body.findings?.foamRings === 'dark';

/** As many show as the sheet has room for. */
const NOTE_LINES = Array.from({ length: 14 });
const FILL = html`<span class="fill"></span>`;
const BOX = html`<span class="box"></span>`;
const TICKED = html`<span class="box ticked">×</span>`;

function look(viewer: Viewer, { name, how, looks }: LookField): Markup {
  const label = viewer.texts.looks.names[name];
  if (how === 'tick') return html`<li class="line"><span class="boxed">${BOX}${label}</span></li>`;
  const boxes = looks.map((one) => html`<span class="boxed">${BOX}${lookText(viewer, name, one)}</span> `);
  return html`<li class="line"><b>${label}:</b> <span>${boxes}</span>${FILL}</li>`;
}

/** Terrain hours are never told without the moving hours beside them. */
function hours(viewer: Viewer, { one, addedKinds, formerRides }: Card): Markup {
  const { texts, words } = viewer;
  const { columns } = texts.paper.card;
  const jobs = jobsOf(one.unit, addedKinds);
  const smallerFirst = [...one.foreseen].sort(
    (a, b) => jobs.indexOf(a.standing.serviceKind) - jobs.indexOf(b.standing.serviceKind),
  );
  return html`<div class="sheet">${table(
    columnsOf(
      [columns.service, columns.terrain, columns.moving, columns.interval, columns.state],
      [columns.terrain, columns.moving],
    ),
    smallerFirst.map(({ standing }) => ({
      head: html`<b>${words.serviceKind(standing.serviceKind)}</b>`,
      cells: [
        html`${words.measured(hoursOfThousandths(standing.terrainMs))}${small(declaredPart(viewer, hoursOfThousandths(standing.declaredMs ?? 0), hoursOfThousandths(standing.terrainMs)))}`,
        html`${words.measured(hoursOfSeconds(standing.movingS))}`,
        html`${limitsText(standing.interval, viewer)}`,
        html`${words.state[standing.state]}`,
      ],
    })),
  )}${knownLine(viewer, one)}${soft(formerRides === 0 ? null : texts.paper.card.formerRides(formerRides))}</div>`;
}

/** The same for every service kind of the unit. */
function knownLine(viewer: Viewer, { foreseen: [first] }: Card['one']): Markup {
  if (first === undefined) return NOTHING;
  const { knownUpTo, expectedMs } = first.standing;
  return soft(knownText({ knownUpTo, expectedHours: hoursOfThousandths(expectedMs) }, viewer, viewer.today));
}

const lastServices = (viewer: Viewer, { services }: Card): Markup =>
  services.length === 0
    ? html`<p>${viewer.texts.paper.card.lastNone}</p>`
    : html`<ul class="plain">${services.map(({ body }) => {
        const where = body.by === 'here' ? null : viewer.texts.unit.bookDone(viewer.words.doneBy[body.by]);
        const said = [viewer.words.serviceKind(body.serviceKind), where, foundText(viewer, body), body.note];
        return html`<li><b>${datedText(body.on, viewer)}</b>: ${said.filter((part) => part).join('; ')}</li>`;
      })}</ul>`;

/** What stands on the sheet of its model, what differs for the unit, and whatever else somebody typed for it. */
function manual(viewer: Viewer, { spec, sheet }: Card): Markup {
  const { card } = viewer.texts.paper;
  const { sheets: says } = viewer.texts;
  const bySide = [...groupBy(sheet.lines, ({ name }) => partsOfLine(name).side)];
  const lines: (readonly [string, string])[] = [
    ...bySide.map(
      ([side, some]) =>
        [
          says.sides[side],
          some
            .map(({ name, value, isOwn }) => {
              const said = isOwn && sheet.model !== null ? says.own(value) : value;
              return `${says.whats[partsOfLine(name).what]} ${said}`;
            })
            .join('; '),
        ] as const,
    ),
    ...Object.entries(spec),
  ];
  if (lines.length === 0) return html`<h3>${card.manual}</h3><p>${card.lookUp}</p>`;
  const of = sheet.model ?? sheet.own;
  const edition = of?.edition ?? null;
  const who = [edition === null ? null : says.editionOf(edition), whoText(viewer, of)];
  return html`<h3>${card.manual}</h3><dl class="facts">${lines.map(
    ([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`,
  )}</dl><p>${who.filter((text) => text !== null).join(' ')} ${card.lookUpRest}</p>`;
}
