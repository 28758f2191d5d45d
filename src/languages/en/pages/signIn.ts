/** What the page to sign in and the first page say. */
export const signIn = {
  kept: {
    waits: 'You were signed out. What you typed is kept: sign in to send it.',
    title: 'Send it now?',
    lead: 'You typed this before you signed in. Nothing was changed yet.',
    send: 'Send it now',
    leave: 'Do not send it',
  },
  title: 'Sign in',
  name: 'Name',
  password: 'Password',
  submit: 'Sign in',
  wrong: 'Wrong name or password. Nothing was changed.',
  tooMany: 'Too many wrong tries. Wait a quarter of an hour, then try again.',
  busy: 'Too many people are signing in right now. Try again in a few seconds.',
  forgotten:
    'Forgotten your password? The owner sets a new one under Settings, Accounts. For the owner’s own, run this on the machine: stanchion account NAME --password',
};

export const first = {
  title: 'Your workshop',
  lead: 'There is no workshop here yet. Say a few things about yours; all of it can be changed later.',
  importTitle: 'Or import a file',
  importSays: 'A file that holds the workshop with riders, bikes and units is imported on the machine:',
  formSays:
    'Riders, bikes and units come next: one customer at a time, or from tables: stanchion import riders riders.csv',
  name: 'Name of the workshop',
  nameHint: 'Riders see it as the sender of their mails.',
  timeZone: 'Time zone',
  timeZoneHint: 'Days begin and end by it. The zone of the machine is chosen.',
  browserZone: 'This browser’s zone:',
  openDays: 'Open days',
  language: 'Language',
  email: 'E-mail address',
  emailHint: 'The mail of the day and answers to mails go there. Without it, neither reaches anybody.',
  phone: 'Phone',
  phoneHint: 'Shown in each mail to riders. May stay empty.',
  submit: 'Create the workshop',
  needName: 'Give the workshop a name of at most 100 characters.',
  needZone: 'Choose a time zone from the list.',
  needDays: 'Tick at least one open day.',
  needEmail: 'This is no e-mail address. Write it as name@example.org, or leave it empty.',
  needPhone: 'A phone number has at most 40 characters, on one line.',
  exists: 'There is a workshop already.',
};
