/**
 * The season reckoned with pencil and paper, from what the riders did: nothing of the program's own counting is used.
 * Units: hours. Days are texts, so that they compare as they read.
 */

export type Kind = 'lower-leg' | 'air-spring' | 'damper' | 'full' | 'air-sleeve' | 'bushings';
export type LimitName = 'months' | 'terrain hours' | 'moving hours';
export interface Rule {
  readonly hours: number;
  readonly months: number | null;
  /** Moving hours at most. Source: common practice, half as much again. */
  readonly ceiling: number;
}
const rule = (hours: number, months: number | null = null): Rule => ({ hours, months, ceiling: hours * 1.5 });

/** Source: common practice, no source; as the guide has them. */
export const RULES: Readonly<Record<'F' | 'A', Readonly<Partial<Record<Kind, Rule>>>>> = {
  F: { 'lower-leg': rule(50, 12), 'air-spring': rule(100), damper: rule(150), full: rule(200) },
  A: { 'air-sleeve': rule(50, 12), bushings: rule(50), full: rule(200) },
};
const ALL: readonly Kind[] = ['lower-leg', 'air-spring', 'damper', 'full', 'air-sleeve', 'bushings'];
/** Which clocks a job restarts. */
export const RESTARTS: Readonly<Record<Kind, readonly Kind[]>> = {
  'lower-leg': ['lower-leg'],
  'air-spring': ['air-spring', 'lower-leg'],
  damper: ['damper', 'lower-leg'],
  full: ALL,
  'air-sleeve': ['air-sleeve'],
  bushings: ['bushings'],
};

export type Ground = 'smooth' | 'typical' | 'rough';
export interface Weights {
  readonly smooth: number;
  readonly typical: number;
  readonly rough: number;
}

export interface Outing {
  readonly n: number;
  readonly start: number;
  readonly day: string;
  readonly minutes: number;
  /** As typed; null for a file, whose ground is that of the bike's kind. */
  readonly ground: Ground | null;
  /** When it reached the workshop, and when it was taken back, if ever. */
  readonly known: number;
  gone?: number;
}

export interface Known {
  /** How the unit came: hours, and as of when; new on a day; or nobody knows. */
  readonly came: { readonly hours: number; readonly on: string } | { readonly newOn: string } | 'unknown';
  readonly factor: number;
  /** The severity that a bike of its kind is taken to ride on. */
  readonly severity: number;
}

/** What stands in the book of one service kind of one unit at a moment. */
export interface Figures {
  readonly rule: Rule;
  readonly since: string | null;
  readonly terrain: number;
  readonly moving: number;
  readonly monthsEnd: string | null;
  /** Every limit that is reached, with the day on which it was. */
  readonly reached: readonly { readonly limit: LimitName; readonly on: string }[];
  readonly state: 'unknown' | 'open' | 'due' | 'over interval';
}

/** Returns the day so many months later; a day that the month lacks becomes its last. */
export function monthsAfter(day: string, months: number): string {
  const [y, m, d] = day.split('-').map(Number) as [number, number, number];
  const month = m - 1 + months;
  const last = new Date(Date.UTC(y, month + 1, 0)).getUTCDate();
  return new Date(Date.UTC(y, month, Math.min(d, last))).toISOString().slice(0, 10);
}

export class Pencil {
  readonly #outings = new Map<number, Outing[]>();
  readonly services: { tag: string; kind: Kind; on: string }[] = [];
  readonly rules: Record<'F' | 'A', Partial<Record<Kind, Rule>>> = { F: { ...RULES.F }, A: { ...RULES.A } };
  weights: Weights = { smooth: 0.5, typical: 1, rough: 2 };

  constructor(readonly units: ReadonlyMap<string, Known>) {}

  kindsOf = (tag: string): Kind[] => Object.keys(this.rules[tag[0] as 'F' | 'A']) as Kind[];

  /** Straight in logarithms between the three weights, level outside. */
  #weight({ ground }: Outing, { severity, factor }: Known): number {
    const { smooth, typical, rough } = this.weights;
    const between = (low: number, high: number, from: number, to: number): number =>
      low * (high / low) ** (Math.log(severity / from) / Math.log(to / from));
    const of = { smooth, typical, rough }[ground ?? 'typical'];
    const own = severity < 1 ? between(smooth, typical, 0.3, 1) : between(typical, rough, 1, 2);
    return Math.min(3, Math.max(0.5, (ground === null ? own : of) * factor));
  }

  write(outing: Outing): void {
    const own = [...(this.#outings.get(outing.n) ?? []), outing];
    this.#outings.set(
      outing.n,
      own.sort((a, b) => a.start - b.start),
    );
  }

  /** The rides of a rider that the workshop knows of at a moment, in order. */
  known(n: number, at: number): Outing[] {
    const isGone = ({ gone }: Outing): boolean => gone !== undefined && gone <= at;
    return (this.#outings.get(n) ?? []).filter((one) => one.known <= at && !isGone(one));
  }

  terrainOf = (one: Outing, tag: string): number =>
    (one.minutes / 60) * this.#weight(one, this.units.get(tag)!);

  figures(tag: string, kind: Kind, at: number, today: string): Figures {
    const unit = this.units.get(tag)!;
    const rule = this.rules[tag[0] as 'F' | 'A'][kind]!;
    const service = this.services
      .filter((one) => one.tag === tag && one.on <= today && RESTARTS[one.kind].includes(kind))
      .map(({ on }) => on)
      .sort()
      .at(-1);
    const came = unit.came === 'unknown' ? null : 'newOn' in unit.came ? unit.came.newOn : unit.came.on;
    const since = service ?? came;
    const base =
      service === undefined && unit.came !== 'unknown' && 'hours' in unit.came ? unit.came.hours : 0;
    let [terrain, moving] = [base, base];
    const reached: { limit: LimitName; on: string }[] = [];
    const note = (limit: LimitName, used: number, most: number, on: string): void => {
      if (used >= most - 1e-9 && !reached.some((one) => one.limit === limit)) reached.push({ limit, on });
    };
    const look = (on: string): void => {
      note('terrain hours', terrain, rule.hours, on);
      note('moving hours', moving, rule.ceiling, on);
    };
    if (since !== null) look(since);
    for (const one of this.known(Number(tag.slice(2)), at)) {
      if (since !== null && one.day < since) continue;
      terrain += this.terrainOf(one, tag);
      moving += one.minutes / 60;
      look(one.day);
    }
    const monthsEnd = since === null || rule.months === null ? null : monthsAfter(since, rule.months);
    if (monthsEnd !== null && monthsEnd <= today) reached.push({ limit: 'months', on: monthsEnd });
    const isOver =
      terrain >= rule.hours * 1.25 - 1e-9 ||
      moving >= rule.ceiling * 1.25 - 1e-9 ||
      (monthsEnd !== null && monthsAfter(monthsEnd, 3) <= today);
    const known = isOver ? 'over interval' : reached.length > 0 ? 'due' : 'open';
    return { rule, since, terrain, moving, monthsEnd, reached, state: since === null ? 'unknown' : known };
  }

  /** The limit that was reached first; more than one where they were on the same day. */
  firstReached({ reached }: Figures): readonly { limit: LimitName; on: string }[] {
    const first = reached.map(({ on }) => on).sort()[0];
    return reached.filter(({ on }) => on === first);
  }
}
