/** What the pages say when something cannot be done. */
export const sorry = {
  back: 'To the first page',
  403: {
    title: 'This form has expired',
    says: 'This form was not sent from a page of this site, or the page was open for too long. Nothing was changed. Open the page afresh and try again.',
  },
  404: {
    title: 'No such page',
    says: 'There is nothing at this address. It may have been moved, or mistyped.',
  },
  409: { title: 'That does not fit', says: 'Nothing was changed.' },
  408: { title: 'Too slow', says: 'What was sent took too long to arrive. Nothing was changed. Try again.' },
  413: {
    title: 'Too much at once',
    says: 'What was sent is larger than this page takes. Nothing was changed.',
  },
  400: { title: 'Not understood', says: 'The address or the form is incomplete. Nothing was changed.' },
  500: {
    title: 'Something broke',
    says: 'That is a fault of this program and not yours. What was saved before is safe. Try again; if it stays, show the log to whoever runs the machine.',
  },
  503: {
    title: 'Out of order for now',
    says: 'The store or a service that this needs does not answer. What was saved before is safe. Try again in a minute.',
  },
};
