import type { Terms } from '../words.js';

export const terms: Terms = {
  name: 'English',
  locale: 'en-GB',
  state: {
    'stop-riding': 'stop riding',
    'on-the-bench': 'on the bench',
    'history-unknown': 'history unknown',
    'over-interval': 'over interval',
    due: 'due',
    'coming-up': 'coming up',
    'in-time': 'in time',
  },
  unitKind: { fork: 'fork', 'air-shock': 'air shock', 'coil-shock': 'coil shock' },
  serviceKind: {
    'lower-leg': 'lower-leg service',
    damper: 'damper service',
    full: 'full service',
    'air-sleeve': 'air-sleeve service',
    bushings: 'bushing service',
  },
  bikeType: { road: 'road', gravel: 'gravel', trail: 'trail', gravity: 'gravity', other: 'other' },
  limit: {
    'terrain-hours': 'terrain hours',
    'moving-hours': 'moving hours',
    months: 'months',
    none: 'no limit',
  },
  ground: { smooth: 'smooth', typical: 'typical', rough: 'rough' },
  bikeRule: {
    chosen: 'chosen by a person',
    subfolder: 'by its folder',
    sensor: 'by a sensor on the bike',
    'ride-type': 'by the type of ride',
    'only-suspended': 'the only bike with suspension',
  },
  hourSource: {
    recorded: 'from ride files',
    'by-hand': 'entered by hand',
    unrecorded: 'unrecorded riding',
  },
  intervalRule: {
    unit: 'set for this unit',
    model: 'set for this model',
    fleet: 'set for this fleet',
    kind: 'set for this kind of unit',
  },
  nameFault: {
    spaces: 'must hold something, without spaces around it',
    signs: 'must be at most 64 characters, free of slashes and hidden characters',
    dot: 'must not begin with a dot',
  },
  counted: {
    day: { one: '# day', other: '# days' },
    month: { one: '# month', other: '# months' },
    ride: { one: '# ride', other: '# rides' },
    service: { one: '# service', other: '# services' },
    waiting: { one: '# waits in the tray', other: '# wait in the tray' },
    new: { one: '# new', other: '# new' },
  },
  about: 'about #',
  hourSign: 'h',
};
