import { scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import { dayOf, startOfDay } from '../../core/days/calendar.js';
import type { CurvePoint } from '../../core/ledger/hoursCurve.js';
import { isReached } from '../../core/states.js';
import type { UnitCurve } from '../../flow/due/unitCurves.js';
import { DAY_MS, type Day, hoursOfSeconds, hoursOfThousandths, type Instant, instant } from '../../units.js';
import { type Markup, NOTHING } from '../markup.js';
import { capitalised } from '../show.js';
import type { Viewer } from '../viewer.js';
import { type Area, legendLine, plotFigure, px } from './frame.js';
import { monthTicks } from './monthTicks.js';

const Y_TICKS = 4;
/** More points a line than this nobody can tell apart, and a page of a thousand rides would be heavy with them. */
const MOST_POINTS = 160;
/** The time to come takes no more of the picture than this, nor less than it needs to be seen. */
const LEAST_AHEAD_MS = 45 * DAY_MS;
const MOST_AHEAD_MS = 400 * DAY_MS;

/** When the interval is likely reached. Null is beyond what is foreseen. */
interface Fan {
  readonly p10: number;
  readonly p50: number | null;
  readonly p90: number | null;
}

/** What the picture is drawn from, in hours and moments. */
interface Drawn {
  /** One line a service period, oldest first. */
  readonly lines: readonly (readonly { readonly at: number; readonly hours: number }[])[];
  readonly services: readonly number[];
  readonly limit: number | null;
  readonly fan: Fan | null;
  readonly monthsEnd: number | null;
  readonly now: number;
  readonly from: number;
  readonly to: number;
}

export type PlotReader = Pick<Viewer, 'words' | 'texts' | 'today' | 'zone' | 'now'>;

/**
 * Returns how the hours of a service kind grew from service to service as a figure. It shows the interval as a dashed
 * line; a fan to the days on which it is foreseen to be reached with 10, 50 and 90 % likelihood. All of it is told in
 * words too.
 */
export function hoursPlot(curve: UnitCurve, viewer: PlotReader): Markup {
  const { texts, words } = viewer;
  const { hoursPlot: says } = texts;
  const drawn = drawnOf(curve, viewer);
  const { fan } = drawn;
  const of = says.of[hoursKindOf(curve)];
  const title = says.title(capitalised(words.serviceKind(curve.standing.serviceKind)), of);
  const legend = [
    legendLine('grown', says.legend.hours),
    ...(drawn.services.length > 0 ? [html`${FLAG}${says.legend.service}`] : []),
    ...(drawn.limit === null ? [] : [legendLine('bound', says.legend.interval)]),
    ...(fan === null ? [] : [html`${BAND}${says.legend.fan}`]),
    ...((fan?.p50 ?? null) === null ? [] : [legendLine('middle', says.legend.middle)]),
  ];
  return plotFigure(
    { title, says: toldOf(curve, drawn, viewer), up: of, across: says.across, legend },
    (area) => picture(area, drawn, viewer),
  );
}

const FLAG = html`<svg width="12" height="14" aria-hidden="true"><path class="seen" d="M6 14V3"/><path class="flag" d="M2 0h8l-4 7z"/></svg>`;
const BAND = html`<svg width="24" height="12" aria-hidden="true"><path class="range" d="M1 11L8 1H23z"/></svg>`;

type HoursKind = 'terrain' | 'moving';

/** The hours of the limit that comes first. */
const hoursKindOf = ({ standing: { limit, interval } }: UnitCurve): HoursKind =>
  limit === 'moving-hours' || (interval.terrainHours === null && interval.movingHoursCeiling !== null)
    ? 'moving'
    : 'terrain';

function drawnOf(curve: UnitCurve, { zone, now }: PlotReader): Drawn {
  const { standing, curves, monthsEnd } = curve;
  const kind = hoursKindOf(curve);
  const hours = (point: CurvePoint): number =>
    kind === 'moving' ? hoursOfSeconds(point.movingS) : hoursOfThousandths(point.terrainMs);
  const lines = curves.map(({ points }) =>
    thinned(points).map((point) => ({ at: point.at, hours: hours(point) })),
  );
  const from = Math.min(now - LEAST_AHEAD_MS, ...lines.flat().map(({ at }) => at));
  const ms = (day: Day): Instant => startOfDay(day, zone);
  const { interval, state } = standing;
  const limit = kind === 'moving' ? interval.movingHoursCeiling : interval.terrainHours;
  const { p10, p50, p90 } = standing.forecast.likely;
  const isForetold = p10 !== null && limit !== null && !isReached(state) && state !== 'history-unknown';
  const ahead = isForetold ? (p90 === null ? MOST_AHEAD_MS : ms(p90) - now) : 0;
  const to = now + Math.min(MOST_AHEAD_MS, Math.max(LEAST_AHEAD_MS, ahead * 1.08));
  // Today is a day that began before now.
  const moment = (day: Day | null): number | null => (day === null ? null : Math.max(now, ms(day)));
  const fan = isForetold ? { p10: moment(p10)!, p50: moment(p50), p90: moment(p90) } : null;
  const services = curves.filter(({ periodId }) => periodId !== 'start').map(({ points }) => points[0]!.at);
  return { lines, services, limit, fan, now, from, to, monthsEnd: monthsEnd === null ? null : ms(monthsEnd) };
}

/** The first and the last of many points, and between them the last in each of as many equal times. */
function thinned(points: readonly CurvePoint[]): readonly CurvePoint[] {
  const [first, last] = [points[0], points.at(-1)];
  if (points.length <= MOST_POINTS || first === undefined || last === undefined) return points;
  const step = (last.at - first.at) / (MOST_POINTS - 2);
  const ofStep = new Map(
    points.slice(0, -1).map((point) => [Math.floor((point.at - first.at) / step), point]),
  );
  return [first, ...ofStep.values(), last];
}

function toldOf(curve: UnitCurve, drawn: Drawn, { texts, words, today, zone }: PlotReader): string {
  const { hoursPlot: says } = texts;
  const last = drawn.lines.at(-1)?.at(-1)?.hours ?? 0;
  const limit = drawn.limit === null ? null : words.hours(drawn.limit);
  const { p10, p50, p90 } = curve.standing.forecast.likely;
  const day = (on: Day | null): string => (on === null ? texts.due.beyond : words.day(on, today));
  const services = drawn.services.map((at) => words.day(dayOf(instant(at), zone), today));
  return [
    says.now(words.hours(last), limit),
    services.length === 0 ? says.noService : says.services(words.list(services)),
    drawn.fan === null ? '' : says.fan(day(p10), day(p50), day(p90)),
    curve.monthsEnd === null ? '' : says.months(day(curve.monthsEnd)),
  ]
    .filter((text) => text !== '')
    .join(' ');
}

function picture(
  area: Area,
  drawn: Drawn,
  { texts, words }: PlotReader,
): ReturnType<Parameters<typeof plotFigure>[1]> {
  const { name, left, right, top, bottom, ticks } = area;
  const { lines, limit, fan, now, monthsEnd } = drawn;
  const x = scaleLinear([drawn.from, drawn.to], [left, right]);
  const most = Math.max(1, limit ?? 0, ...lines.flat().map(({ hours }) => hours));
  const y = scaleLinear([0, most * 1.04], [bottom, top + 12]).nice(Y_TICKS);
  const at = (ms: number, hours: number): string => `${x(ms).toFixed(1)} ${y(hours).toFixed(1)}`;
  const last = lines.at(-1)?.at(-1)?.hours ?? 0;
  const clip = `hours-${name}`;
  return {
    rows: y.ticks(Y_TICKS).map((hours) => ({ at: y(hours), label: words.hours(hours) })),
    columns: monthTicks(drawn.from, x.invert(right - 14), ticks, words.locale).map((tick) => ({
      ...{ at: x(tick.ms), label: tick.label },
    })),
    marks: html`<clipPath id="${clip}"><path d="M${left} 0H${right}V${bottom + 20}H${left}z"/></clipPath>
${fan === null || limit === null ? NOTHING : html`<g clip-path="url(#${clip})">${fanMarkup(fan, { now, last, limit, to: drawn.to }, at)}</g>`}
${drawn.services.map(
  (ms) =>
    html`<path class="seen" d="M${px(x(ms))} ${bottom}V${top}"/><path class="flag" d="M${px(x(ms) - 5)} ${top - 8}h10l-5 8z"/>`,
)}
${limit === null ? NOTHING : html`<path class="bound" d="M${left} ${px(y(limit))}H${right}"/>`}
${
  monthsEnd === null || monthsEnd > drawn.to || monthsEnd < drawn.from
    ? NOTHING
    : html`<path class="bound" d="M${px(x(monthsEnd))} ${bottom}V${top + 6}"/><text x="${px(Math.min(x(monthsEnd), right - 30))}" y="${top}" text-anchor="middle">${texts.hoursPlot.monthsUp}</text>`
}
${lines.map(
  (points) => html`<path class="grown" d="M${points.map((point) => at(point.at, point.hours)).join('L')}"/>`,
)}`,
  };
}

/**
 * The band between the early and the late day, and the middle day's line. Where the late day is beyond what is
 * foreseen, the band runs out level: nothing may be ridden.
 */
function fanMarkup(
  { p10, p50, p90 }: Fan,
  { now, last, limit, to }: { now: number; last: number; limit: number; to: number },
  at: (ms: number, hours: number) => string,
): Markup {
  const open = Math.max(to, p10, p50 ?? p10);
  const late = p90 === null ? at(open, last) : at(p90, limit);
  const corners = [at(now, last), at(p10, limit), ...(p90 === null ? [at(open, limit)] : []), late];
  return html`<path class="range" d="M${corners.join('L')}z"/>
${p50 === null ? NOTHING : html`<path class="middle" d="M${at(now, last)}L${at(p50, limit)}"/>`}`;
}
