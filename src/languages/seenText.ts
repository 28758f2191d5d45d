import { type FindingName, lookNow } from '../core/ledger/findings.js';
import { pageTextsFor } from './index.js';

/** Returns what was looked at and what was seen there, in a language; what the ledger does not know as it was typed. */
export function seenText(language: string, [name, word]: readonly [FindingName, string]): string {
  const { names, words } = pageTextsFor(language).looks;
  const known: Readonly<Record<string, string>> = words[name];
  const now = lookNow(name, word);
  return `${names[name]}: ${Object.hasOwn(known, now) ? known[now] : word}`;
}

/** Returns how something is set, as it was typed, in a language. */
export const setText = (language: string, [name, value]: readonly [string, string]): string => {
  const fields: Readonly<Record<string, string>> = pageTextsFor(language).setUp.fields;
  return `${Object.hasOwn(fields, name) ? fields[name] : name}: ${value}`;
};
