/** What the settings pages say. */
export const settings = {
  title: 'Settings',
  lead: 'How the workshop signs its mails, when it is open, and what an hour weighs.',
  workshopTitle: 'The workshop',
  address: 'Address',
  addressHint: 'Stands in each mail to riders, line by line. May stay empty.',
  openingHours: 'Opening hours',
  openingHoursHint:
    'On one line, in the language of most riders: it goes out as typed, in every mail. May stay empty.',
  openDaysHint: 'Days are offered to riders, and lists mailed to the workshop, on these only.',
  digestHour: 'Hour of the day’s mails',
  digestHourHint: 'By the workshop’s clock: the list for the workshop, and reminders to riders.',
  noticeDays: 'Days of notice',
  noticeDaysHint: 'How many days before its likely date a service is coming up, and riders are told.',
  languageHint: 'Of these pages and of the workshop’s own mails; each rider has a language of their own.',
  save: 'Save the settings',
  saved: 'The settings are saved.',
  unchanged: 'There was nothing to save: the settings stand as they were.',
  lastSet: (who: string, day: string) => `As set by ${who}, ${day}.`,
  needAddress: 'An address has at most 500 characters.',
  needOpeningHours: 'Opening hours have at most 200 characters, on one line.',
  needDigestHour: 'Choose an hour from the list.',
  needNoticeDays: 'Write the days as a whole number from 1 to 90.',

  weightsTitle: 'Terrain weights',
  weights: {
    title: 'Terrain weights',
    lead: 'What an hour counts by how hard the ground worked the suspension. That severity is an estimate; between the three points the weight runs on, outside it stays level.',
    now: (smooth: string, typical: string, rough: string) =>
      `Now an hour counts ${smooth} on smooth ground, ${typical} on a typical trail and ${rough} on rough ground.`,
    change: 'Change the weights',
    back: 'All settings',
    smooth: 'Smooth ground',
    smoothHint: 'At severity 0.3: a road.',
    typical: 'Typical trail',
    typicalHint: 'At severity 1.',
    rough: 'Rough ground',
    roughHint: 'At severity 2.',
    needWeight: (low: string, high: string) => `Write a number from ${low} to ${high}.`,
    bounds: 'No hour counts less than 0.5 or more than 3; on a fleet’s bikes it may count up to 4.',
    needOrder: 'Rougher ground cannot weigh less: the three numbers must not fall.',
    previewRule: (smooth: string, typical: string, rough: string) =>
      `With ${smooth}, ${typical} and ${rough}:`,
    save: 'Save these weights',
    columns: { unit: 'Unit', service: 'Service', before: 'State now', after: 'State then' },
    mails: (riders: number) =>
      riders === 0
        ? 'No rider would be written to because of it.'
        : riders === 1
          ? '1 rider could be written to because of it.'
          : `${riders} riders could be written to because of it.`,
    mailsHow: 'The workshop’s own list tells of all of them.',
    saved: 'The weights are saved; every ride is weighed and every unit reckoned anew.',
    unchanged: 'There was nothing to save: the weights stand as they were.',
  },
};
