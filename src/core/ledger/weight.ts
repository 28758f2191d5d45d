import { type Instant, msOf, type Seconds, type Thousandths, thousandths } from '../../units.js';
import type { Terrain } from '../ground/samples/reading.js';
import { severityOfClass } from '../ground/severity/severityClasses.js';
import { groundTypeOf } from '../subSports.js';
import type { BikeType, Ground } from '../tokens.js';
import { type FleetOfBike, fleetAt } from './bikeFleet.js';
import type { Weights } from './ledger.js';

/** Defaults that a workshop may change; assumptions, not measurements. */
export const DEFAULT_WEIGHTS: Weights = { smooth: 0.5, typical: 1, rough: 2 };

/**
 * Terrain seconds for each second in the air, where the workshop says no other: half a second ends in an impact of
 * 2.5 m/s. An assumption until findings confirm it, no measurement.
 */
export const LANDING_WEIGHT = 10;

/** Returns the terrain seconds that landings add to a ride, before a wet mark, a unit's factor and any bounds. */
export const landingSeconds = ({ landings }: Terrain, { landing = LANDING_WEIGHT }: Weights): number =>
  landing * (landings?.hangS ?? 0);

export interface Clamp {
  readonly low: number;
  readonly high: number;
}
/** Bounds of ground × wet × factor. */
export const CLAMP: Clamp = { low: 0.5, high: 3 };
export const FLEET_CLAMP: Clamp = { low: 0.5, high: 4 };

/** Returns the bounds on a bike at the start of a ride: a fleet's are wider, while it is of one. */
export const clampOn = (bike: FleetOfBike | undefined, at: Instant): Clamp =>
  bike !== undefined && fleetAt(bike, at) !== null ? FLEET_CLAMP : CLAMP;

/** On a ride marked wet. Source: common practice, mud shortens intervals. */
export const WET_FACTOR = 1.2;

/** The severity that a ground entered by hand stands for; also where the three weights apply. */
export const GROUND_SEVERITY: Readonly<Record<Ground, number>> = { smooth: 0.3, typical: 1, rough: 2 };

/** Returns the ground whose severity is nearest, in logarithms. */
export function groundAt(severity: number): Ground {
  const { smooth, typical, rough } = GROUND_SEVERITY;
  if (severity < Math.sqrt(smooth * typical)) return 'smooth';
  return severity < Math.sqrt(typical * rough) ? 'typical' : 'rough';
}

/** The severity that is assumed where the file knows little. */
const PRIOR: Readonly<Record<BikeType, number>> = {
  road: 0.6,
  gravel: 0.8,
  trail: 1,
  gravity: 1.4,
  other: 1,
};

/** Returns the prior severity of a ride: by the file's sub-sport, else by the bike's type, else that of a trail. */
export function priorOf(subSport: string | null, bikeType: BikeType | null): number {
  return PRIOR[groundTypeOf(subSport) ?? bikeType ?? 'other'];
}

/** Returns the weight at a severity: straight in logarithms between the three that the workshop sets, level outside. */
export function weightAt(severity: number, weights: Weights): number {
  const { smooth, typical, rough } = GROUND_SEVERITY;
  if (severity <= smooth) return weights.smooth;
  if (severity >= rough) return weights.rough;
  return severity < typical
    ? between(severity, smooth, typical, weights.smooth, weights.typical)
    : between(severity, typical, rough, weights.typical, weights.rough);
}

function between(x: number, x0: number, x1: number, y0: number, y1: number): number {
  return y0 * (y1 / y0) ** (Math.log(x / x0) / Math.log(x1 / x0));
}

/**
 * How much two witnesses pull, where elevation is good and where it is poor. Without elevation they miss the severity
 * of labelled rides by less than any prior does, so they pull more than it.
 */
const PULL_WHEN_GOOD = 0.4;
const PULL_WHEN_POOR = 0.75;

/**
 * Returns raw severity joined with the prior (a severity) and the witnesses: the poorer the elevation, the more of
 * them.
 */
function blended(raw: number, terrain: Terrain, prior: number): number {
  const { quality, witnessWeight, witness } = terrain;
  const unknown = 1 - (quality ?? 0);
  const poor = PULL_WHEN_POOR * witnessWeight;
  const good = PULL_WHEN_GOOD * witnessWeight;
  const withoutElevation = (1 - poor) * Math.log(prior) + poor * witness;
  const joined = (1 - unknown) * Math.log(raw) + unknown * withoutElevation;
  return Math.exp((1 - good) * joined + good * witness);
}

/** What stands in one class of raw severity, and what an hour in it weighs. */
export interface WeighedClass {
  readonly rawSeverity: number;
  readonly movingS: number;
  /** Joined with prior and witnesses. */
  readonly severity: number;
  /** Before wet and bounds. */
  readonly weight: number;
}

/** Returns the classes that hold moving time, smoothest first; none where no elevation is usable. */
export function weighedClasses(
  terrain: Terrain,
  { prior, weights }: Pick<WeightOptions, 'prior' | 'weights'>,
): WeighedClass[] {
  if (terrain.quality === null) return [];
  return terrain.classS
    .map((movingS, index) => {
      const rawSeverity = severityOfClass(index);
      const severity = blended(rawSeverity, terrain, prior);
      return { rawSeverity, movingS, severity, weight: weightAt(severity, weights) };
    })
    .filter(({ movingS }) => movingS > 0);
}

export interface GroundPart {
  readonly share: number;
  readonly severity: number;
}

/** Returns the ride as shares of its moving time by severity; one part at the prior where no elevation is usable. */
export function partsOf(terrain: Terrain, prior: number): GroundPart[] {
  const known = terrain.classS.reduce((sum, s) => sum + s, 0);
  if (terrain.quality === null || known === 0) return [{ share: 1, severity: prior }];
  return terrain.classS
    .map((s, index) => ({ share: s / known, severity: blended(severityOfClass(index), terrain, prior) }))
    .filter(({ share }) => share > 0);
}

/** Returns the severity of a ride as shown: the mean over its moving time, in logarithms. */
export function severityOf(terrain: Terrain, prior: number): number {
  const parts = partsOf(terrain, prior);
  if (parts.length === 1) return parts[0]!.severity;
  return Math.exp(parts.reduce((sum, { share, severity }) => sum + share * Math.log(severity), 0));
}

export interface WeightOptions {
  /** A severity, see priorOf. */
  readonly prior: number;
  readonly weights: Weights;
  readonly wet?: boolean;
  /** Of the weight that is shown; CLAMP when left out. */
  readonly clamp?: Clamp;
}

/** What moving time on a ground is. */
export interface GroundTime {
  readonly movingS: Seconds;
  /** Moving time by the weight of its ground and a wet mark, before a unit's factor and any bounds. */
  readonly groundMs: Thousandths;
}

export interface WeighedTime extends Pick<GroundTime, 'groundMs'> {
  readonly severity: number;
  /** Within the bounds, as a unit without a factor is charged. */
  readonly weight: number;
  readonly terrainMs: Thousandths;
}

/** Returns what riding charges a unit with: the product of all is held to its bounds once, here, and rounded. */
export const chargedMs = (
  { movingS, groundMs }: GroundTime,
  factor: number,
  { low, high }: Clamp,
): Thousandths =>
  thousandths(Math.min(msOf(high * movingS), Math.max(msOf(low * movingS), groundMs * factor)));

/**
 * Returns what a ride's moving time weighs. Moving time beyond the classes (a twin recording's, a stretch without
 * elevation) weighs as the ride does on average.
 */
export function terrainOf(terrain: Terrain, movingS: Seconds, options: WeightOptions): WeighedTime {
  const ground = partsOf(terrain, options.prior).reduce(
    (sum, { share, severity }) => sum + share * weightAt(severity, options.weights),
    0,
  );
  const { wet = false, clamp = CLAMP } = options;
  const product = ground * (wet ? WET_FACTOR : 1);
  const added = landingSeconds(terrain, options.weights) * (wet ? WET_FACTOR : 1);
  const groundMs = thousandths(msOf(movingS) * product + msOf(added));
  return {
    severity: severityOf(terrain, options.prior),
    weight: Math.min(clamp.high, Math.max(clamp.low, product + (movingS > 0 ? added / movingS : 0))),
    groundMs,
    terrainMs: chargedMs({ movingS, groundMs }, 1, clamp),
  };
}
