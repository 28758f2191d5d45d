import type { PhotoFault, PhotoSubject } from '../../../core/tokens.js';

/** What is said of photographs of what was seen. */
export const photos = {
  title: 'Photographs',
  add: 'Add a photograph',
  shows: 'What it shows',
  subjects: {
    rings: 'Rings on white paper',
    oil: 'Oil',
    seals: 'Wipers and seals',
    stanchions: 'Stanchions or shaft',
    damage: 'Damage',
    other: 'Something else',
  } satisfies Record<PhotoSubject, string>,
  showsPerson: 'It shows a person or a name',
  showsPersonHint: 'Such a photograph is deleted when its rider is forgotten.',
  camera: 'Take a photograph',
  choose: 'Choose files',
  send: 'Send',
  hint: (most: number, megabytes: number) =>
    `JPEG, PNG or WebP, up to ${most} at once and ${megabytes} MB each. Where and with what it was taken is not kept.`,
  sending: 'The photograph is being sent.',
  broken: 'It did not arrive. Check your connection, then choose it again.',
  of: (caption: string) => `Photograph: ${caption}`,
  remove: 'Take back',
  removeTells: 'It is deleted for good.',
  removedWhy: 'the photograph was taken back',
  need: 'Choose a photograph first.',
  notThis: (name: string, why: string) => `${name}: ${why} Nothing was kept.`,
  tooLarge: (megabytes: number) => `it is larger than ${megabytes} MB. Send a smaller one.`,
  notReceived: {
    tooMany: 'Too many at once. Send some now and the others after them.',
    tooMuch: 'Too much at once. Send fewer photographs.',
    noRoom: 'The workshop’s machine is busy right now. Try again in a minute.',
    notWhole: 'It did not arrive in full. Send it again.',
  },
  faults: {
    'no-picture': 'it is no photograph in JPEG, PNG or WebP.',
    heic: 'this browser could not convert the phone’s format. Set the camera to “most compatible”, or send a JPEG.',
    'too-many-pixels': 'it has more than 40 million pixels. Send a smaller one.',
    broken: 'it is damaged and cannot be read. Take it again.',
    'too-slow': 'reading it took too long. Send a smaller one.',
    busy: 'others are being read right now. Try again in a minute.',
  } satisfies Record<PhotoFault, string>,
};
