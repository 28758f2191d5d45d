import { ServiceError } from '../errors.js';

/** Throws what a person may read. Errors: `refused`. */
export function refuse(message: string, hint?: string): never {
  throw new ServiceError('refused', 'change the ledger', message, hint === undefined ? {} : { hint });
}
