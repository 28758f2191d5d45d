import { Refusal, type ServiceError } from '../errors.js';
import type { ImportRefused } from '../flow/carry/importLedger.js';
import { wordsFor } from '../languages/index.js';
import { commandRefusal } from '../languages/refusals.js';
import type { Problem } from '../problems.js';

const words = wordsFor('en');

/** Returns what failed, and what to do about it where that is known, as commands say it. */
export const failureText = (error: ServiceError): readonly [message: string, hint?: string] => {
  if (error instanceof Refusal) return commandRefusal(error, words);
  return error.hint === undefined ? [error.message] : [error.message, error.hint];
};

/** Returns what an import found wrong, in words. */
export const importProblems = ({ problems }: ImportRefused): Problem[] =>
  problems.map(({ refused, ...problem }) =>
    refused === undefined ? problem : { ...problem, message: failureText(refused).join(' ') },
  );
