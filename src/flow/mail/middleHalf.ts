import type { StandingRow } from '../../ports/standings.js';
import type { Day } from '../../units.js';

/** From the 25 % to the 75 % day; a limit in months that comes earlier ends it there. */
export function middleHalfOf({
  forecast,
  likely,
}: Pick<StandingRow, 'forecast' | 'likely'>): { from: Day; to: Day } | null {
  const { p10, p90 } = likely;
  if (p10 === null || p90 === null) return null;
  const day = (share: number): Day | null => forecast.quantileDays?.[share / 5 - 1] ?? null;
  const within = (on: Day): Day => (on < p10 ? p10 : on > p90 ? p90 : on);
  return { from: within(day(25) ?? p10), to: within(day(75) ?? p90) };
}
