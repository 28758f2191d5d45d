import { SINCE } from '../../../core/notices/kinds/silence.js';
import type { MailSource } from './mailKind.js';

/** Asks a rider whose rides stopped arriving. */
export const silence: MailSource = {
  stops: 'stop',
  toRider: async ({ notices: [notice], frame, maker }) => {
    if (!notice) return null;
    const links = maker && { handOver: `${maker.own('page')}/files`, stopMails: maker.own('stop') };
    return { mail: 'silence', content: { ...frame, since: SINCE.read(notice.cause), links } };
  },
};
