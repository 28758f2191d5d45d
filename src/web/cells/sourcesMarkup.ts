import { html } from 'hono/html';
import type { Hours } from '../../core/ledger/hours.js';
import { HOUR_SOURCES, type HourSource } from '../../core/tokens.js';
import type { PeriodHours } from '../../flow/due/periodHours.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { type Markup, type Row, table } from '../markup.js';
import type { Voice } from '../viewer.js';
import { small } from './dueCells.js';

const hasAny = ({ movingS, terrainMs }: Hours): boolean => movingS > 0 || terrainMs > 0;

/** Where the hours of the running service periods come from: a line for each source, a column for each service kind. */
export function periodSourcesMarkup(voice: Voice, periods: readonly PeriodHours[]): Markup {
  const { words, texts } = voice;
  const line = (name: string, of: (one: PeriodHours) => Hours, note: string | null = null): Row[] => {
    const hours = periods.map(of);
    return hours.some(hasAny)
      ? [{ head: html`${name}${small(note)}`, cells: hours.map((one) => hoursCell(voice, one)) }]
      : [];
  };
  return table(
    [
      { label: texts.sources.title },
      ...periods.map(({ serviceKind }) => ({
        label: words.serviceKind(serviceKind),
      })),
    ],
    [
      ...line(texts.sources.cameWith, ({ period }) => ({
        movingS: period.baseMovingS,
        terrainMs: period.baseTerrainMs,
      })),
      ...HOUR_SOURCES.flatMap((source) =>
        line(words.hourSource[source], ({ sources }) => sources[source], noteOf(voice, source)),
      ),
      ...line(texts.sources.all, (one) => one),
    ],
  );
}

/** The same of a bike. */
export const bikeSourcesMarkup = (voice: Voice, hours: Readonly<Record<HourSource, Hours>>): Markup =>
  table(
    [
      { label: voice.texts.sources.title },
      { label: voice.texts.bike.columns.moving, isFigure: true },
      { label: voice.texts.bike.columns.terrain, isFigure: true },
    ],
    HOUR_SOURCES.filter((source) => source !== 'declared' || hasAny(hours[source])).map((source) => ({
      head: html`${voice.words.hourSource[source]}${small(noteOf(voice, source))}`,
      cells: [
        html`${voice.words.measured(hoursOfSeconds(hours[source].movingS))}`,
        html`${voice.words.measured(hoursOfThousandths(hours[source].terrainMs))}`,
      ],
    })),
  );

const noteOf = ({ texts }: Voice, source: HourSource): string | null =>
  source === 'unrecorded' ? texts.sources.estimate : source === 'declared' ? texts.declared.guess : null;

/** Each says what it is: on a phone the column's head is out of sight. */
const hoursCell = ({ words, texts }: Voice, { movingS, terrainMs }: Hours): Markup =>
  html`${texts.sources.hours(words.measured(hoursOfSeconds(movingS)), words.measured(hoursOfThousandths(terrainMs)))}`;
