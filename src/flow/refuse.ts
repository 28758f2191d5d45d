import { REFUSALS, type RefusalCode, type RefusalValues, type Told } from '../core/refusals.js';
import { Refusal, ServiceError } from '../errors.js';

/** Throws what a person may read, in any language. Errors: `refused`. */
export function refuse<C extends RefusalCode>(code: C, ...values: RefusalValues<C>): never {
  const told = (REFUSALS[code] as (...values: RefusalValues<C>) => Told)(...values);
  throw new Refusal(code, values, typeof told === 'string' ? [told] : told);
}

/** Throws what only commands come upon. Errors: `refused`. */
export function refuseCommand(message: string, hint?: string): never {
  throw new ServiceError('refused', 'change the ledger', message, hint === undefined ? {} : { hint });
}
