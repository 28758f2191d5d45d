import type { MailSource } from './mailKind.js';

/** Asks whether an address is the rider's. */
export const confirmAddress: MailSource = {
  stops: null,
  toRider: async ({ frame, maker }) => ({
    mail: 'confirm-address',
    content: { ...frame, link: maker?.own('address') ?? null },
  }),
};
