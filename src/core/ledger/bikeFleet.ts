/** Which fleet a bike was of, and since when it is of another. */
import type { Instant, Moment } from '../../units.js';

/** A fleet that a bike was of until a moment; null for none. */
export interface FormerFleet {
  readonly fleetId: string | null;
  readonly until: Moment;
}

export interface FleetOfBike {
  /** Now; null for none. */
  readonly fleetId: string | null;
  /** Earlier ones, oldest first; left out: it never was of another. */
  readonly formerFleets?: readonly FormerFleet[];
}

/** Shape: moments of fleets are times, never days alone. */
const msAt = (moment: Moment): number => Date.parse(moment);

/** Returns the fleet that a bike was of at a moment; null for none. */
export const fleetAt = ({ fleetId, formerFleets = [] }: FleetOfBike, at: Instant): string | null => {
  const former = formerFleets.find(({ until }) => at < msAt(until));
  return former === undefined ? fleetId : former.fleetId;
};

/**
 * Returns a bike's fleets where it is of another from a moment on, or always was where that is null. What was said of
 * later days falls away.
 */
export function fleetsFrom(
  bike: FleetOfBike,
  fleetId: string | null,
  from: Moment | null,
): Required<FleetOfBike> {
  const { formerFleets = [] } = bike;
  if (from === null) return { fleetId, formerFleets: [] };
  const at = msAt(from) as Instant;
  const before = formerFleets.filter(({ until }) => msAt(until) < at);
  return { fleetId, formerFleets: [...before, { fleetId: fleetAt(bike, (at - 1) as Instant), until: from }] };
}

/** Returns every fleet that a bike is or was of. */
export const fleetsOf = ({ fleetId, formerFleets = [] }: FleetOfBike): (string | null)[] => [
  fleetId,
  ...formerFleets.map((former) => former.fleetId),
];
