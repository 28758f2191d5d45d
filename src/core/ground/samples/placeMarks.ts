/**
 * Which recordings were at one place, without holding the place: of each minute a mark of the coarse cell that it was
 * spent in. Whoever holds database and key can tell cells of about a kilometre; nobody else can tell anything.
 */
import { DAY_MINUTES, MINUTE_MS } from '../../../units.js';
import type { KeptSamples } from './steps.js';

/** Returns a text that nobody can make without the key. Shape: base64, at least 16 characters. */
export type Mark = (text: string) => string;

export interface PlaceMarks {
  /** Tells one key from another: marks under two keys cannot be compared. */
  readonly key: string;
  /** The recorder's serial number under the key. */
  readonly recorder: string | null;
  /** Whole minutes since 1970 of the first mark. */
  readonly fromMinute: number;
  /** Four characters a minute, dots where no position is known. */
  readonly cells: string;
}

const WIDTH = 4;
const UNKNOWN = '.'.repeat(WIDTH);
/** Units: degrees of latitude, about 1.1 km. */
const CELL_DEG = 0.01;
/** Of a recording that goes on for longer, the rest has none. Units: minutes. */
const LONGEST = 2 * DAY_MINUTES;

/** Returns the marks of the samples. Shape: no cells where there are no times or positions. */
export function placeMarksOf(
  { count, timeMs, lat, lon }: KeptSamples,
  serial: string | null,
  mark: Mark,
): PlaceMarks {
  const known = new Map<string, string>();
  const cells: string[] = [];
  let fromMinute = 0;
  for (let i = 0; i < count; i++) {
    if (Number.isNaN(timeMs[i]!) || Number.isNaN(lat[i]!)) continue;
    const minute = Math.floor(timeMs[i]! / MINUTE_MS);
    if (cells.length === 0) fromMinute = minute;
    const at = minute - fromMinute;
    if (at >= LONGEST) break;
    if (at < cells.length) continue;
    while (cells.length < at) cells.push(UNKNOWN);
    const cell = cellOf(lat[i]!, lon[i]!);
    if (!known.has(cell)) known.set(cell, mark(`cell ${cell}`).slice(0, WIDTH));
    cells.push(known.get(cell)!);
  }
  return {
    key: mark('key').slice(0, 8),
    recorder: serial === null ? null : mark(`recorder ${serial}`).slice(0, 16),
    fromMinute,
    cells: cells.join(''),
  };
}

/** Cells are as wide as they are high, whatever the latitude. */
function cellOf(lat: number, lon: number): string {
  const row = Math.floor(lat / CELL_DEG);
  const width = CELL_DEG / Math.max(0.01, Math.cos((row * CELL_DEG * Math.PI) / 180));
  return `${row} ${Math.floor(lon / width)}`;
}

/** Of the minutes that two recordings share, how many there are and in how many both were in one cell. */
export interface SharedMinutes {
  readonly minutes: number;
  readonly together: number;
}

/**
 * Returns how far two recordings were at one place when the second is moved by so much; null where it cannot be told. A
 * neighbouring minute will do, for neither clocks nor the edges of cells are exact.
 */
export function sharedMinutes(
  a: PlaceMarks | undefined,
  b: PlaceMarks | undefined,
  shiftMs: number,
): SharedMinutes | null {
  if (a === undefined || b === undefined || a.key !== b.key) return null;
  const offset = Math.round(shiftMs / MINUTE_MS) + b.fromMinute - a.fromMinute;
  const from = Math.max(0, offset);
  const to = Math.min(a.cells.length / WIDTH, b.cells.length / WIDTH + offset);
  let [minutes, together] = [0, 0];
  for (let at = from; at < to; at++) {
    const own = cellAt(a, at);
    if (own === UNKNOWN || cellAt(b, at - offset) === UNKNOWN) continue;
    minutes += 1;
    if ([0, -1, 1].some((by) => cellAt(b, at - offset + by) === own)) together += 1;
  }
  return minutes === 0 ? null : { minutes, together };
}

const cellAt = ({ cells }: PlaceMarks, minute: number): string =>
  cells.slice(minute * WIDTH, (minute + 1) * WIDTH);

/** Returns whether two recordings never were in one cell; null where it cannot be told. */
export function neverMet(a: PlaceMarks | undefined, b: PlaceMarks | undefined): boolean | null {
  if (a === undefined || b === undefined || a.key !== b.key) return null;
  const [own, other] = [cellsOf(a), cellsOf(b)];
  if (own.size === 0 || other.size === 0) return null;
  return ![...own].some((cell) => other.has(cell));
}

function cellsOf({ cells }: PlaceMarks): Set<string> {
  const found = new Set<string>();
  for (let at = 0; at < cells.length; at += WIDTH) found.add(cells.slice(at, at + WIDTH));
  found.delete(UNKNOWN);
  return found;
}
