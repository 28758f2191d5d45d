import { textTable } from '../evidence/textTable.js';

/** One figure of a run: ours beside another of the same run. */
export interface Figure {
  readonly what: string;
  readonly ours: number;
  readonly against: string;
  readonly other: number;
  /** Of both. */
  readonly unit: 'ms' | 'MB' | 's';
  /** More than so many times the other is a fault. */
  readonly most?: number;
  /** So many times the other is aimed at, and no fault where it is not reached. */
  readonly aim?: number;
}

export const ratioOf = ({ ours, other }: Figure): number => ours / other;

export const isFault = (figure: Figure): boolean =>
  !Number.isFinite(ratioOf(figure)) || ratioOf(figure) > (figure.most ?? Number.POSITIVE_INFINITY);

/** What tells the same figure in another run. */
export const nameOf = ({ what, against }: Figure): string => `${what} / ${against}`;

/** Returns the figures as text, each with the ratio that the same had before, where it is known. */
export function figureTable(figures: readonly Figure[], before: Readonly<Record<string, number>>): string {
  const rows = figures.map((figure) => [
    figure.what,
    `${rounded(figure.ours)} ${figure.unit}`,
    figure.against,
    `${rounded(figure.other)} ${figure.unit}`,
    `× ${ratioOf(figure).toFixed(2)}`,
    figure.most === undefined ? '' : `${isFault(figure) ? 'OVER' : 'of'} ${figure.most}`,
    before[nameOf(figure)]?.toFixed(2) ?? '',
  ]);
  return textTable([['what', 'takes', 'against', 'which takes', 'ratio', 'at most', 'before'], ...rows]);
}

const rounded = (value: number): string => value.toFixed(value < 1 ? 3 : value < 100 ? 1 : 0);
