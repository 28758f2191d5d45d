/** Riding by severity, from which any three weights give terrain hours without looking at a ride again. */
import type { Weights } from '../ledger/ledger.js';
import { GROUND_SEVERITY, type GroundPart, LANDING_WEIGHT, weightAt } from '../ledger/weight.js';

/** Steps below and above a typical trail, where the weight bends. */
const BELOW = 16;
const ABOVE = 8;
const NODES = BELOW + ABOVE + 1;
const { smooth: FIRST, typical: BEND, rough: LAST } = GROUND_SEVERITY;
const SEVERITIES = Array.from({ length: NODES }, (_, i) =>
  i <= BELOW ? FIRST * (BEND / FIRST) ** (i / BELOW) : BEND * (LAST / BEND) ** ((i - BELOW) / ABOVE),
);

/** Returns where a severity lies among them, in logarithms. */
function placeOf(severity: number): number {
  const place =
    severity < BEND
      ? (BELOW * Math.log(severity / FIRST)) / Math.log(BEND / FIRST)
      : BELOW + (ABOVE * Math.log(severity / BEND)) / Math.log(LAST / BEND);
  return Math.min(NODES - 1, Math.max(0, place));
}

/** Moving hours by severity, even in logarithms; outside the first and the last the weight stays level. */
export interface GroundHours {
  readonly hours: Float64Array;
  readonly airHours: number;
}

export const noGround = (): GroundHours => ({ hours: new Float64Array(NODES), airHours: 0 });

/** Returns the riding with a ride more, each part shared by the two severities that it lies between. */
export function withRide(
  { hours, airHours }: GroundHours,
  ride: { readonly parts: readonly GroundPart[]; readonly movingHours: number; readonly airHours: number },
): GroundHours {
  const sum = hours.slice();
  for (const { share, severity } of ride.parts) {
    const place = placeOf(severity);
    const below = Math.min(NODES - 2, Math.floor(place));
    const held = share * ride.movingHours;
    sum[below] = sum[below]! + held * (below + 1 - place);
    sum[below + 1] = sum[below + 1]! + held * (place - below);
  }
  return { hours: sum, airHours: airHours + ride.airHours };
}

/** Returns how many terrain hours riding is with these weights, before any bounds. */
export function hoursBy(weights: Weights): (ground: GroundHours) => number {
  const at = SEVERITIES.map((severity) => weightAt(severity, weights));
  const landing = weights.landing ?? LANDING_WEIGHT;
  return ({ hours, airHours }) => hours.reduce((sum, held, i) => sum + held * at[i]!, landing * airHours);
}
