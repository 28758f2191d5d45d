/** What the field that finds anything says. */
export const find = {
  field: 'Name, phone, tag, serial, bike, mail',
  button: 'Find',
  title: 'Find',
  titleOf: (sought: string) => `Found for “${sought}”`,
  lead: 'Type part of a name, a phone number, a tag, a serial number, a bike or a mail address. The key / takes you to the field from any page.',
  none: 'Nothing found. A shorter part finds more. Accents and capitals make no difference.',
  more: 'There may be more. A longer part finds fewer.',
  riders: 'Riders',
  units: 'Units',
  bikes: 'Bikes',
  gone: 'Left for good',
};
