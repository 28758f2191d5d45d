/** What the workshop's pages say of a rider's own page. */
export const ownPage = {
  title: 'The rider’s own page',
  lead: 'Behind its link a rider sees their bikes and hours, sends ride files, answers questions and asks for a day. Whoever has the link sees the same; it shows no name, address or phone number.',
  phone: 'Phone',
  noPhone: 'none',
  make: 'Create a link',
  mail: 'Mail a link',
  made: (until: string) => `This link works until ${until}. It is shown only now: copy it or open it.`,
  open: 'Open the rider’s page',
  noAddress: 'Links can be mailed once a public address is set on the machine: STANCHION_PUBLIC_URL.',
  revokeTitle: 'If a link falls into the wrong hands',
  revokeLead: 'All links of this rider stop working, those in mails too. Then create another.',
  revoke: 'Take back all links',
  said: {
    mailed: 'A mail with the link goes out with the next delivery.',
    askedFirst:
      'The address is not confirmed yet. A mail asks the rider first, and the link follows once they confirm.',
    revoked: 'All links of this rider are taken back.',
    unreachable:
      'No mail goes out: the rider has no address, or mail to it is refused. Create a link and hand it over.',
  },
};
