/** What the list of units and the page of one say. */
export const units = {
  title: 'Units',
  lead: 'Every fork and shock with what comes next for it.',
  columns: {
    unit: 'Unit',
    who: 'Bike and rider',
    state: 'State',
    next: 'Comes next',
    likely: 'Likely date',
  },
  nothing:
    'There are no units yet. Import riders, bikes and units on the machine that runs this, a table each or all in one file: stanchion import units units.csv, or stanchion import FILE.json',
};

export const unit = {
  bike: 'Bike',
  rider: 'Rider',
  model: 'Model',
  serial: 'Serial number',
  warranty: 'Warranty until',
  factor: 'Factor on its hours',
  history: 'When it came',
  wasNew: 'new',
  wasUnknown: 'history unknown',
  hadRun: (terrain: string, moving: string, day: string) =>
    `with ${terrain} terrain, ${moving} moving, as of ${day}`,
  standsTitle: 'Where it stands',
  own: 'An interval for this unit alone',
  stopped: (why: string, who: string, day: string) => `Stop riding, have it seen: ${why} (${who}, ${day})`,
  onBench: 'It is on the bench: no notices go out for it.',

  logTitle: 'Log a service',
  kind: 'Service',
  on: 'Day it was done',
  doneBy: 'Where it was done',
  found: 'Found inside',
  foundHint:
    'What was seen teaches the interval. Leave what nobody looked at; anything else goes into the note.',
  notLooked: 'not looked at',
  parts: 'Parts and oil used',
  partsHint:
    'Such as: 2 × foam ring; bath oil with its number of ml. One without a number is kept as 1 piece.',
  needParts: 'Parts and oil: a number and a name each, parted by semicolons.',
  takes: (service: string) => `What a ${service} takes`,
  amountOf: (part: string) => `Amount: ${part}`,
  inMl: 'ml',
  showParts: 'Show the parts of the chosen service',
  needAmount: 'Type how many, or how many ml, of each part that is ticked.',
  otherParts:
    'The parts below are those of another service. Press “Show the parts of the chosen service” and look at them.',
  sameDay: (who: string) =>
    `${who} logged the same service for this day already. Nothing was saved. Tick below if it was done twice.`,
  logAgain: 'It was done twice on this day',
  sayRenewed:
    'New rings and wipers were chosen beforehand, as for a full service done here. Nothing was saved: say what became of them, and log it again.',
  jobDone: 'The job at the workshop is done with it',
  technician: 'Technician',
  note: 'Note',
  log: 'Log this service',

  fitTitle: 'On which bike',
  fitBike: 'Bike',
  typeIt: 'Type its tag or number.',
  fitFrom: 'From the start of',
  fit: 'Put it on this bike',
  offFrom: 'Off from the start of',
  off: 'Take it off',
  swapWith: 'Swap with unit',
  swap: 'Swap the two',
  althoughMarked: 'It is marked “stop riding” and goes on all the same',

  markTitle: 'After a crash, or when in doubt',
  markHint:
    'A unit marked to be stopped stands above all hours, and the workshop, and the rider if there is one, are told with the next mails.',
  why: 'Why',
  mark: 'Mark: stop riding',

  tagTitle: 'A tag that was typed wrong',
  tagHint:
    'Its hours and its book stay with it, the old tag stands in the book, and whoever opens the old tag finds it.',
  newTag: 'Right tag',
  tagWhy: 'Why it was wrong',
  saveTag: 'Save the tag',
  needTag:
    'Give a tag of at most 64 characters, without slashes and not beginning with a dot. Nothing was saved.',

  ridesTitle: 'Rides charged lately',
  ridesLead: 'The weight is the factor on the hour, from an estimate of the ground.',
  noRides: 'No ride has been charged to it yet.',
  rides: {
    day: 'Day',
    bike: 'Bike',
    moving: 'Moving hours',
    weight: 'Weight',
    terrain: 'Terrain hours',
    ground: 'Severity (estimate)',
  },
  byHand: 'entered by hand',
  noElevation: 'no elevation: assumed from the kind of ride',
  poor: 'poor elevation: partly assumed',
  damaged: 'damaged file: counted as far as it was read',

  bookTitle: 'Service book',
  bookEmpty: 'Nothing is written in it yet.',
  bookBy: (who: string) => `entered by ${who}`,
  bookDone: (where: string) => `done ${where}`,
  bookRestarts: (kinds: string) => `restarted: ${kinds}`,
  bookClaim: 'by the rider’s word: its hours run on until the workshop agrees (open the line)',
  bookRestartsNone: 'restarted nothing',
  bookOn: (bike: string) => `put on ${bike}`,
  bookOff: (bike: string) => `taken off ${bike}`,
  bookEvening: 'after the last ride of that day',
  bookMark: (why: string) => `marked to be stopped: ${why}`,
  bookClear: (why: string) => `mark cleared: ${why}`,
  bookIn: 'came to the bench',
  bookOut: 'left the bench',

  done: {
    service: 'The service is logged; its clocks begin again with that day.',
    fit: 'The fitting is saved; the rides since then are charged to it.',
    off: 'It is off the bike. Its months go on.',
    swap: 'The two units are swapped.',
    swapBack: 'The swap is taken back: each unit is where it was before.',
    mark: 'It is marked: stop riding. The workshop, and the rider if there is one, are told with the next mails.',
    changed: 'What is known of it is saved; hours and states follow.',
    unchanged: 'There was nothing to save.',
    added: 'The unit is added, with the next tag.',
    tag: 'The tag is corrected; everything else stays as it was.',
    agreed: 'Agreed: the hours begin again from its day.',
    corrected: 'The day is corrected; the hours follow.',
    void: 'The line is taken back; the hours follow.',
  } as Record<string, string>,
};
