import type { RefusalCode, RefusalValues } from '../core/refusals.js';
import { Refusal, ServiceError } from '../errors.js';

/** Throws what a person may read, in any language. Errors: `refused`. */
export function refuse<C extends RefusalCode>(code: C, ...values: RefusalValues<C>): never {
  throw new Refusal(code, values);
}

/** Throws what only commands come upon. Errors: `refused`. */
export function refuseCommand(message: string, hint?: string): never {
  throw new ServiceError('refused', message, hint === undefined ? {} : { hint });
}
