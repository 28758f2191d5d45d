/** What the pages say when something cannot be done. */
export const sorry = {
  back: 'To the first page',
  403: {
    title: 'This form has expired',
    says: 'The page was open for too long, or the form came from another site. Nothing was changed. Open the page again and try once more.',
  },
  404: {
    title: 'No such page',
    says: 'There is nothing at this address. It may have been moved, or mistyped.',
  },
  409: { title: 'That is not possible', says: 'Nothing was changed.' },
  408: { title: 'Too slow', says: 'Sending took too long. Nothing was changed. Try again.' },
  413: {
    title: 'Too much at once',
    says: 'What was sent is larger than this page takes. Nothing was changed.',
  },
  400: { title: 'Something is missing', says: 'The address or the form is incomplete. Nothing was changed.' },
  500: {
    title: 'Something broke',
    says: 'The fault is in this program, not yours. What was saved before is safe. Try again. If it happens again, show the log to whoever runs the machine.',
  },
  503: {
    title: 'Out of order for now',
    says: 'The database or a service does not answer. What was saved before is safe. Try again in a minute.',
  },
};
