import type { HomeDeed } from '../../../core/tokens.js';

/** What is said of a job that a rider does at home. */
export const home = {
  title: 'Doing it yourself',
  at: {
    allowed: 'I do it myself',
    chosen: 'Your job at home',
    asked: 'Will you still do it at home?',
  },
  lead: (service: string) =>
    `You may do the ${service} at home, with parts and advice of the workshop. This page leads you through it.`,
  rests:
    'No day is held for it. For three weeks no mail says that it is coming up. You still hear when it is due.',
  kit: 'The kit',
  toPickUp: 'Pick it up at the workshop.',
  pickedUp: 'You have it.',
  chosen: 'Thank you. The workshop gets your kit ready. This page leads you through the job.',
  notAllowed: 'The workshop does this job itself: ask for a day, or call.',
  isBooked: 'A day is already held for a visit with other jobs. Have it done then, or cancel that day first.',
  leave: 'I would rather bring it',
  left: 'Good. Ask for a day whenever it suits you.',
  asked: (day: string) => `On ${day} you wanted to do it yourself. Will you still do it?`,
  still: 'Yes, I still will',
  stillSaid: 'Good. This page does not ask again.',
  print: 'Print this page, or keep it open on the phone.',
  manualFirst:
    'The maker’s manual comes first. Where no figure stands here, look it up there; do not guess one.',
  stopTitle: 'Stop here and bring it',
  stopIf: (words: string) => `Stop here and bring it: ${words}.`,
  stopHow: 'Close nothing by force, do not ride it, and call the workshop.',
  deeds: {
    wash: 'Wash and dry the outside, so that no grit gets in.',
    'off-bike':
      'Take the unit off the bike, or the wheel and the brake caliper off it; keep oil off the brake.',
    'nuts-back':
      'With the air out: back the foot nuts off a few turns, and free each side with a plastic mallet on the socket.',
    'lowers-off': 'Catch the old oil, take the nuts off, and draw the lowers off straight.',
    'can-off': 'With the air out: unscrew the air sleeve by hand, slowly. Stop if it pushes or hisses.',
    clean: 'Clean everything with lint-free cloth. Wipe the old grease and oil out.',
    'soak-rings': 'Put in the new foam rings, soaked in the oil that the manual names.',
    'fit-seals': 'Fit what is new in the kit, greased as the manual says. Single-use washers are always new.',
    'oil-in': 'Measure the oil for each side, and fill it in.',
    'grease-in': 'Grease and oil the sleeve as the manual says.',
    'lowers-on': 'Push the lowers on straight: no seal lip may fold.',
    'can-on': 'Screw the sleeve on by hand, straight, until it sits.',
    'nuts-tight': 'Tighten the foot nuts with a torque wrench.',
    'pressure-in': 'Pump it up in steps, and move it a few times after each.',
    'mounts-tight': 'Mount it with a torque wrench.',
    'on-bike': 'Put wheel and brake caliper back, with a torque wrench.',
  } satisfies Record<HomeDeed, string> as Record<HomeDeed, string>,
  done: 'Done? Say what you saw',
  doneLead: 'A tap each. The workshop sees it, and its hours start again.',
  day: 'Day it was done',
  questions: {
    foamRings: 'The old rings were',
    wipers: 'The wipers are',
    stanchions: 'The stanchions are',
    shaft: 'The shaft is',
    damper: 'It moves',
    leaks: 'Leaks',
  } as Readonly<Record<string, string>>,
  more: 'I saw something else that must not be ridden',
  photo: 'Take a photograph and log it',
  photoHint: (megabytes: number) =>
    `One photograph, JPEG, PNG or WebP, at most ${megabytes} MB. It is deleted when the workshop forgets you.`,
  log: 'Log it without a photograph',
  need: 'Answer all four questions. Nothing was saved.',
  tooMuch: 'That is more than one photograph, or too large. Nothing was saved.',
  logged: (service: string, day: string) => `Thank you. The ${service} of ${day} is logged as done at home.`,
  bad: (seen: string) =>
    `Have it checked soon, and in doubt do not ride (${seen}). The workshop is told and will call you.`,
  stopped: (seen: string) => `Do not ride it (${seen}). The workshop is told at once; please call it.`,
  gone: 'This was logged already. Nothing was changed.',
  stopWhy: (seen: string) => `done at home: ${seen}`,
};
