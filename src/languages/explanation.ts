import type { ExplanationCode } from '../core/tokens.js';
import { ride as english } from './en/pages/ride.js';

/** A clause with what stands in the slots of its text. */
export interface Clause {
  readonly code: ExplanationCode;
  readonly values: Readonly<Record<string, number>>;
}

/** What a language has for clauses. */
export interface ClauseWords {
  readonly lead: string;
  readonly explanation: Readonly<Record<ExplanationCode, string>>;
}

/** Returns the clauses as one sentence that calls itself an estimate, in English unless other words are given. */
export function explanationText(clauses: readonly Clause[], words: ClauseWords = english): string {
  const said = ({ code, values }: Clause): string =>
    words.explanation[code].replace(/\{(\w+)\}/g, (_, slot: string) => String(values[slot]));
  return `${words.lead}: ${clauses.map(said).join('; ')}.`;
}
