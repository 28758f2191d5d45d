import { textTable } from '../evidence/textTable.js';
import { type Figure, nameOf, ratioOf } from './figure.js';

/** One run on a busy machine differs from the next by so much. */
const MARGIN = 1.2;

/** A figure's ratio beside the one that is aimed at. */
export interface Aim {
  readonly name: string;
  readonly value: number;
  readonly aim: number;
}

/** Returns the figures for which there is an aim. */
export const aimsOf = (figures: readonly Figure[]): Aim[] =>
  figures.flatMap((figure) =>
    figure.aim === undefined ? [] : [{ name: nameOf(figure), value: ratioOf(figure), aim: figure.aim }],
  );

/** Returns in words how a figure stands to its aim. */
export const standOf = ({ value, aim }: Aim): 'reached' | 'nearly' | 'not reached' =>
  value <= aim ? 'reached' : value <= aim * MARGIN ? 'nearly' : 'not reached';

/** Returns the aims as text. */
export const aimsTable = (aims: readonly Aim[]): string =>
  textTable([
    ['figure', 'ratio', 'aim', ''],
    ...aims.map((one) => [one.name, one.value.toFixed(2), `≤ ${one.aim}`, standOf(one)]),
  ]);
