/** What the page to sign in and the first page say. */
export const signIn = {
  title: 'Sign in',
  name: 'Name',
  password: 'Password',
  submit: 'Sign in',
  wrong: 'That name and password do not fit together. Nothing was changed.',
  tooMany: 'Too many wrong tries. Wait a quarter of an hour, then try again.',
  busy: 'Too many people are signing in at this moment. Try again in a few seconds.',
  forgotten:
    'Password forgotten? Whoever runs the machine can make another account there: stanchion setup --account NAME',
};

export const first = {
  title: 'Your workshop',
  lead: 'There is no workshop in this data folder yet. There are two ways to begin.',
  importTitle: 'You have a file with riders, bikes and units',
  importSays: 'If the workshop is in it too, import it on the machine that runs this.',
  formTitle: 'Or begin here',
  formSays: 'Riders, bikes and units come afterwards, from a table each: stanchion import riders riders.csv',
  name: 'Name of the workshop',
  nameHint: 'Riders see it as the sender of their mails.',
  timeZone: 'Time zone',
  timeZoneHint: 'Days begin and end by it.',
  openDays: 'Open days',
  language: 'Language',
  email: 'E-mail address',
  emailHint: 'The mail of the day and answers to mails go there. Without it, neither reaches anybody.',
  phone: 'Phone',
  phoneHint: 'Stands in each mail to riders. May stay empty.',
  submit: 'Make the workshop',
  needName: 'Give the workshop a name of at most 100 characters.',
  needZone: 'Choose a time zone from the list.',
  needDays: 'Tick at least one open day.',
  needEmail: 'This is no e-mail address. Write it as name@example.org, or leave it empty.',
  needPhone: 'A phone number has at most 40 characters, on one line.',
  exists: 'There is a workshop already.',
};
