import type { UsedPart } from '../../core/ledger/facts.js';

const USE = /^(?:(\d{1,5}(?:[.,]\d{1,2})?)\s*(ml\b|x\b|×)?\s*)?(\S.*)$/i;

/**
 * Returns the parts and oil that a person typed on one line, parted by semicolons: `2 × foam ring; 7.5 ml bath oil`. One
 * without a number is one piece. Null where a number says nothing.
 */
export function readUsedParts(line: string): readonly UsedPart[] | null {
  const uses = line
    .split(';')
    .map((one) => one.trim())
    .filter((one) => one !== '')
    .map(readUse);
  return uses.some((use) => use === null) ? null : (uses as UsedPart[]);
}

function readUse(text: string): UsedPart | null {
  const [, typed, unit, part] = USE.exec(text) ?? [];
  const count = Number((typed ?? '1').replace(',', '.'));
  if (part === undefined || !(count > 0) || !isName(part)) return null;
  return { part, count, measure: unit?.toLowerCase() === 'ml' ? 'ml' : 'pieces' };
}

/** A number or a measure alone names nothing. */
const isName = (part: string): boolean => /^\p{L}/u.test(part) && !/^(ml|x)$/i.test(part);
