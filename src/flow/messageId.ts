import type { Ids } from '../ports.js';

/** Source: RFC 5322 3.6.4 (unique), RFC 2606 section 2 (a domain that names nobody). */
export const newMessageId = (ids: Ids): string => `<${ids.uuid()}@stanchion.invalid>`;
