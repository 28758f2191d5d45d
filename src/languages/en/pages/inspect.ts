import type { InspectionResult } from '../../../core/tokens.js';

/** What is looked at after a crash, and on a unit whose history nobody knows; a sheet of it for printing. */
export const inspect = {
  crash: {
    link: 'The after-crash list',
    ends: 'A “stop riding” mark ends with the after-crash list: what was looked at, what comes of it, and who clears it.',
    title: (tag: string) => `After-crash list: ${tag}`,
    lead: 'Take the unit off the bike, clean it, and look at each part in good light. Every part has to be looked at before it may be ridden.',
    proves:
      'Looking shows what can be seen. It proves nothing about hidden cracks: a part may break later without a sign. What the maker’s manual says must be replaced after a crash is replaced. In doubt, replace it.',
    book: 'looked at after a crash',
    why: (result: string, by: string) => `After-crash list: ${result}, ${by}`,
    save: 'Save the list',
  },
  history: {
    link: 'Inspect it, or check it second-hand',
    title: (tag: string) => `Inspect: ${tag}`,
    lead: 'For a unit whose history nobody knows, and for one that changes hands. Leave what nobody looked at.',
    proves:
      'This says what was seen on that day, and no more. It says nothing about hidden cracks, about wear inside that nobody opened, or about what was ridden before.',
    book: 'inspected',
    save: 'Save what was seen',
  },
  unknown: 'Its history stays unknown until somebody says what counts from here.',
  on: 'Day it was looked at',
  by: 'Who looked at it',
  clears: 'Who looked at it and answers for the result',
  serial: 'Serial number as it stands on the unit',
  note: 'Note',
  result: 'Result',
  results: {
    ride: 'ride: the mark is cleared',
    repair: 'repair: not ridden until then',
    replace: 'replace: not ridden any more',
  } as Readonly<Record<InspectionResult, string>>,
  needResult: 'Choose a result. Nothing was saved.',
  needBy: 'Say who looked at it. Nothing was saved.',
  from: 'What counts from here',
  ends: {
    nothing: 'nothing changes: it is a check to print',
    service: 'a service: log it next, and its hours start with it',
    hours: 'hours as of that day, as typed below',
  },
  terrain: 'Terrain hours as of that day',
  moving: 'Moving hours as of that day',
  needHours: 'Type both hours, from 0 on. Nothing was saved.',
  notUnknown:
    'Its history is known already. If it is wrong, change it on the unit’s page. Nothing was saved.',
  sheet: 'Sheet for printing',
  sheetTitle: { crash: 'After-crash list', history: 'Second-hand check' },
  notSeen: 'not looked at',
  ifOpened: 'Rings and oil were seen only where the unit was opened.',
  signature: 'signature',
  earlier: 'Looked at before',
  seenTitle: 'What was looked at',
  done: {
    crash: 'The list is saved. It is in the book.',
    cleared: 'The list is saved, and the mark is cleared.',
    history: 'What was seen is saved. It is in the book.',
    hours: 'What was seen is saved, and its hours count on from there.',
  } as Record<string, string>,
};
