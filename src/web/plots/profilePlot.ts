import { extent } from 'd3-array';
import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { html } from 'hono/html';
import type { ProfilePoint } from '../../core/ground/samples/reading.js';
import { groundAt } from '../../core/ledger/weight.js';
import type { Ground } from '../../core/tokens.js';
import { kilometresIn, metresOfKm } from '../../units.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';
import { type Area, plotFigure } from './frame.js';
import { groundSample, hatchings, lineWidthOf } from './groundMarks.js';

/** A flat ride must not look like mountains. Units: metres. */
const LEAST_RELIEF_M = 60;
const Y_TICKS = 4;
/** What rises or falls more than this was not ridden: a lift or a gap lies between. */
const STEEPEST = 1;

interface Seen extends ProfilePoint {
  readonly elevationM: number;
}
/** Points on one ground, in a row. The last one is shared with the next run. */
interface Run {
  readonly ground: Ground | null;
  readonly points: readonly Seen[];
}

/**
 * Returns a profile as a figure: elevation by distance, its ground told by hatching, by the weight of the line and in
 * words. Null where no elevation is known.
 */
export function profilePlot(points: readonly ProfilePoint[], voice: Voice): Markup | null {
  const runs = runsOf(points);
  if (runs.length === 0) return null;
  const { ride } = voice.texts;
  const elevations = runs.flatMap((run) => run.points.map((point) => point.elevationM));
  const [low, high] = extent(elevations) as [number, number];
  const { number } = voice.words;
  const metres = (m: number): string => `${number(Math.round(m))}\u00a0m`;
  const lengths = lengthsOf(runs).map(([ground, m]) => ({
    ground,
    text: ride.plotPart(groundWord(ground, voice), `${number(kilometresIn(m))}\u00a0km`),
  }));
  const length = `${number(kilometresIn(points.at(-1)?.distanceM ?? 0))}\u00a0km`;
  const says = `${ride.plotSays(length, metres(low), metres(high))} ${lengths.map(({ text }) => text).join('; ')}.`;
  const legend = lengths.map(({ ground, text }) => html`${groundSample(ground)} ${text}`);
  return plotFigure(
    { title: ride.plotTitle, says, up: ride.plotUp, across: ride.plotAcross, legend },
    (area) => picture(area, runs, [low, high], { metres, number }),
  );
}

const groundWord = (ground: Ground | null, { words, texts }: Voice): string =>
  ground === null ? texts.ride.unknownGround : words.ground[ground];

function runsOf(points: readonly ProfilePoint[]): Run[] {
  const runs: { ground: Ground | null; points: Seen[] }[] = [];
  let before: Seen | null = null;
  for (const point of points) {
    if (!isSeen(point)) {
      before = null;
      continue;
    }
    const ground = point.severity === null ? null : groundAt(point.severity);
    const last = before !== null && isRidden(before, point) ? runs.at(-1) : undefined;
    last?.points.push(point);
    if (last === undefined || last.ground !== ground) runs.push({ ground, points: [point] });
    before = point;
  }
  return runs.filter((run) => run.points.length > 1);
}

const isRidden = (a: Seen, b: Seen): boolean =>
  Math.abs(b.elevationM - a.elevationM) <= STEEPEST * (b.distanceM - a.distanceM);

const isSeen = (point: ProfilePoint): point is Seen => point.elevationM !== null;

/** Metres on each ground there is, smooth first. */
function lengthsOf(runs: readonly Run[]): [Ground | null, number][] {
  const on = (ground: Ground | null): number =>
    runs
      .filter((run) => run.ground === ground)
      .reduce((sum, { points }) => sum + points.at(-1)!.distanceM - points[0]!.distanceM, 0);
  return (['smooth', 'typical', 'rough', null] as const)
    .map((ground): [Ground | null, number] => [ground, on(ground)])
    .filter(([, m]) => m > 0);
}

interface Saying {
  readonly metres: (m: number) => string;
  readonly number: (value: number) => string;
}

function picture(
  { name, left, right, top, bottom, ticks }: Area,
  runs: readonly Run[],
  [low, high]: readonly [number, number],
  { metres, number }: Saying,
): ReturnType<Parameters<typeof plotFigure>[1]> {
  const id = `profile-${name}`;
  const spare = Math.max(0, LEAST_RELIEF_M - (high - low)) / 2;
  const x = scaleLinear([0, runs.at(-1)!.points.at(-1)!.distanceM], [left, right]);
  const y = scaleLinear([low - spare, high + spare], [bottom, top]).nice(Y_TICKS);
  return {
    rows: y.ticks(Y_TICKS).map((m) => ({ at: y(m), label: metres(m) })),
    columns: kilometres(x, ticks).map((km) => ({
      ...{ at: x(metresOfKm(km)), label: `${number(km)}\u00a0km` },
    })),
    marks: html`${hatchings(id)}${runs.map((run) => stretch(run, id, x, y))}`,
  };
}

/** The first and last tick would run out of the picture. */
const kilometres = (x: ScaleLinear<number, number>, count: number): number[] => {
  const [from, to] = x.range() as [number, number];
  const inKm = x.copy().domain(x.domain().map((m) => kilometresIn(m)));
  return inKm.ticks(count).filter((km) => inKm(km) >= from && inKm(km) <= to - 14);
};

function stretch(
  { ground, points }: Run,
  id: string,
  x: ScaleLinear<number, number>,
  y: ScaleLinear<number, number>,
): Markup {
  const across = (point: Seen): number => x(point.distanceM);
  const up = (point: Seen): number => y(point.elevationM);
  const floor = y.range()[0]!;
  const filled = area<Seen>(across, floor, up).digits(1)([...points]);
  const drawn = line<Seen>(across, up).digits(1)([...points]);
  return html`${ground === null ? '' : html`<path d="${filled}" fill="url(#${id}-${ground})"/>`}<path d="${drawn}" fill="none" stroke="currentColor" stroke-width="${lineWidthOf(ground)}" stroke-linejoin="round"${ground === null ? html` stroke-dasharray="2 4"` : ''}/>`;
}
