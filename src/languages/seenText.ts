import { type FindingName, lookNow } from '../core/ledger/findings.js';
import { pageTextsFor } from './index.js';

/** Returns what was looked at and what was seen there, in a language; what the ledger does not know as it was typed. */
export function seenText(language: string, [name, word]: readonly [FindingName, string]): string {
  const { names, words } = pageTextsFor(language).looks;
  const known: Readonly<Record<string, string>> = words[name];
  const now = lookNow(name, word);
  return `${names[name]}: ${Object.hasOwn(known, now) ? known[now] : word}`;
}
