import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { type PartUse, setNameOf } from '../../core/plan/parts.js';
import { UNIT_KINDS } from '../../core/tokens.js';
import type { DayJob } from '../../flow/plan/dayPlan.js';
import type { Voice } from '../viewer.js';

export const pathOfFleet = (handle: string): string => `/fleets/${encodeURIComponent(handle)}`;

/** Returns a share in percent, spelled as in all texts. */
export const percentText = (share: number, { words }: Voice): string =>
  `${words.number(Math.round(100 * share))}\u00a0%`;

export const minutesText = (minutes: number, { texts, words }: Voice): string =>
  texts.plan.load.minutes(words.number(Math.round(minutes)));

/** Returns a part as typed; a set that stands where nothing was typed is named in the page's words. */
export function partText(part: string, { texts, words }: Voice): string {
  for (const unitKind of UNIT_KINDS) {
    for (const { name } of serviceKindsOf({ unitKind }, [])) {
      if (part === setNameOf(unitKind, name))
        return texts.plan.load.setOf(words.unitKind[unitKind], words.serviceKind(name));
    }
  }
  return part;
}

export const amountText = ({ count, measure }: Omit<PartUse, 'part'>, { texts, words }: Voice): string =>
  measure === 'ml' ? texts.plan.load.millilitres(words.number(count)) : words.number(count);

export const useText = (use: PartUse, voice: Voice): string =>
  `${amountText(use, voice)}${use.measure === 'ml' ? ' ' : '\u00a0×\u00a0'}${partText(use.part, voice)}`;

/** Returns what a unit is at the workshop for; it came for something, whatever is due. */
export function jobFor(
  { texts: { bench }, words }: Voice,
  {
    serviceKind,
    beside,
    isUnknown,
    isAhead,
  }: Pick<DayJob, 'serviceKind' | 'beside' | 'isUnknown' | 'isAhead'>,
): string {
  if (isUnknown) return bench.unknown;
  if (serviceKind === null) return bench.nothingKnown;
  const job = words.jobs([serviceKind, ...beside]);
  return isAhead ? bench.ahead(job) : job;
}
