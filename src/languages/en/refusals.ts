import type { FindingName } from '../../core/ledger/findings.js';
import type { Holder, RefusedSpan } from '../../core/refusals.js';
import type { ServiceKind, UnitKind } from '../../core/tokens.js';
import type { Around, RefusalTexts } from '../language.js';
import { looks } from './pages/looks.js';

const lookName = (name: string): string => (looks.names[name as FindingName] ?? name).toLowerCase();
const seenText = (seen: readonly (readonly [string, string])[]): string =>
  seen
    .map(([name, word]) => {
      const words: Readonly<Record<string, string>> = looks.words[name as FindingName] ?? {};
      return `${lookName(name)}: ${words[word] ?? word}`;
    })
    .join('; ');

const spanText = (around: Around, { from, to }: RefusedSpan): string =>
  `from ${around.day(from)}${to === null ? ' on' : ` to ${around.day(to)}`}`;

const a = ({ words }: Around, kind: UnitKind): string => {
  const word = words.unitKind[kind];
  return `${/^[aeiou]/.test(word) ? 'an' : 'a'} ${word}`;
};
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const kindsText = (around: Around, kinds: readonly ServiceKind[]): string =>
  kinds.map(around.serviceKind).join(', ');

const HOLDERS: Readonly<Record<Holder, (name: string, around: Around) => string>> = {
  ledger: () => 'the whole ledger',
  bike: (name) => `bike ${name}`,
  race: (name) => `race ${name}`,
  rides: (count) => `${count} rides; move them to another bike`,
  unrecorded: (id, { fact }) => `an unrecorded share${fact(id)}`,
  declared: (id, { fact }) => `declared riding${fact(id)}`,
  interval: (id, { fact }) => `an interval${fact(id)}`,
  membership: (id, { fact }) => `a unit of that fleet${fact(id)}`,
  fitting: (id, { fact }) => `a fitting${fact(id)}`,
  hours: (id, { fact }) => `hours entered by hand${fact(id)}`,
  part: (id, { fact }) => `a part${fact(id)}`,
  service: (id, { fact }) => `a service${fact(id)}`,
};

/** A day that stands in the book already may be the wrong one of the two. */
const DAY_WRONG = 'If that day is wrong, correct it in the service book on the unit’s page.';

const EASY_AND_HARD = 'A few words in a row are easy to remember and hard to guess.';

export const refusals: RefusalTexts = {
  'workshop-name': (_, { name }) => `The workshop stays "${name}": by that name an export finds its ledger.`,
  'time-zone': (_, { zone }) => `There is no time zone "${zone}".`,
  'unit-kind': (around, { tag, before, after }) => [
    `${tag} has fittings or services as ${a(around, before)}: it cannot become ${a(around, after)}.`,
    'Make those void first, or enter it under a tag of its own.',
  ],
  'weight-range': (around, { ground, low, high, value }) => [
    `The weight of ${around.words.ground[ground]} ground must be from ${around.number(low)} to ${around.number(high)}, not ${around.number(value)}.`,
    'No hour counts less than 0.5 or more than 3; on a fleet’s bikes it may count up to 4, where there is a fleet.',
  ],
  'landing-range': (around, { most, value }) => [
    `A second in the air may add from 0 to ${around.number(most)} terrain seconds, not ${around.number(value)}.`,
    'With 0 landings add nothing.',
  ],
  'weights-fall': (around, { smooth, typical, rough }) =>
    `Rougher ground cannot weigh less: ${around.words.ground.smooth} ${around.number(smooth)}, ${around.words.ground.typical} ${around.number(typical)} and ${around.words.ground.rough} ${around.number(rough)} must not fall.`,
  'not-of-unit': (around, of) => [
    `${of.tag} is ${a(around, of.unitKind)}: it has no service kind "${around.serviceKind(of.serviceKind)}".`,
    `It has: ${kindsText(around, of.kinds)}.`,
  ],
  'no-clock': (around, { tag, unknown, kinds }) => [
    `${tag} has no clock "${unknown.map(around.serviceKind).join('", "')}".`,
    `It has: ${kindsText(around, kinds)}.`,
  ],
  'service-to-come': (around, { on }) =>
    `${around.day(on)} has not come yet; a service is logged when it is done.`,
  'service-there': (around, { tag, serviceKind, on, fact, who }) => [
    `${who} logged ${around.serviceKind(serviceKind)} of ${tag} for ${around.day(on)} already${around.fact(fact)}. Nothing was saved.`,
    'If it was done twice on that day, say so with --again; to add parts to the first, correct it.',
  ],
  'no-finding': (_, { unknown, names }) =>
    `There is no finding "${unknown.join('", "')}" here. There are: ${names.join(', ')}.`,
  'foam-rings': (_, { said, looks }) => `Foam rings are ${looks.join(', ')}, not "${said}".`,
  'put-back-or-new': (_, { name, said }) => `"${name}" is put-back or new, not "${said}".`,
  'ride-unseen': (_, { names }) => [
    `It cannot be ridden by this list: nobody looked at ${names.map(lookName).join(', ')}.`,
    'Look at all of it, or choose repair or replace. The mark stays until then.',
  ],
  'ride-harmed': (_, { seen }) => [
    `It cannot be ridden with what was seen: ${seenText(seen)}.`,
    'Choose repair or replace. The mark stays until it is looked at again.',
  ],
  'sheet-own-check': () => [
    'Whoever typed a sheet does not check it.',
    'Somebody else holds it against the manual, signed in with an account of their own.',
  ],
  'sheet-lines': (_, { unknown, names }) =>
    `A sheet for such a unit has no line "${unknown.join('", "')}". It has: ${names.join(', ')}.`,
  'kind-former': (around, { serviceKind }) => [
    `A service "${around.serviceKind(serviceKind)}" is logged no more: taking the lowers off is a lower-leg service.`,
    'Log lower-leg, and say that the wipers are new.',
  ],
  'kind-stays': (_, { name }) =>
    `The service kind "${name}" keeps its name and kind of unit; add another instead.`,
  'kind-is-there': (around, { unitKind, name }) => [
    `${capital(a(around, unitKind))} has the service kind "${around.serviceKind(name)}" already.`,
    'Its hours are set by an interval.',
  ],
  'kind-added': (_, { name }) => `The service kind "${name}" was added already.`,
  'no-kind': (around, { unitKind, serviceKind }) =>
    `${capital(a(around, unitKind))} has no service kind "${around.serviceKind(serviceKind)}".`,
  'interval-hours': () => 'The hours must be more than 0 and at most 10 000.',
  'interval-months': () => 'The months must be a whole number from 1 to 240.',
  'interval-ceiling': () => 'The ceiling in moving hours must be more than 0 and at most 10 000.',
  'interval-there': (around, { fact }) =>
    `There is an interval for these units already${around.fact(fact)}; correct that one.`,
  'time-to-come': () => 'That time has not come yet.',
  minutes: () => 'The minutes must be more than 0 and at most 1440, a whole day.',
  'before-it-came': (around, { tag, first, on, fact }) => [
    `${tag} came new on ${around.day(first)}; it cannot have been serviced on ${around.day(on)}${around.fact(fact)}.`,
    DAY_WRONG,
  ],
  held: (around, { by, name }) => `This cannot be made void: on it stands ${HOLDERS[by](name, around)}.`,
  'nothing-to-tell': (around, { kind }) =>
    `Nothing is to be told of ${around.serviceKind(kind)}: it neither comes up nor is due.`,
  'void-already': (around, { fact }) => `This line is void already${around.fact(fact)}.`,
  'same-already': () => 'That is what stands there already.',
  'name-taken': (_, { name, kind }) => `"${name}" is what another ${kind} is called.`,
  'name-alike': (_, { name, kind, other }) => [
    `"${name}" differs only in capital letters from the ${kind} "${other}".`,
    `If it is that one, call it "${other}"; if it is another, give it a name of its own.`,
  ],
  'no-name': (around, { name, fault }) => `"${name}" cannot be a name: it ${around.words.nameFault[fault]}.`,
  'no-moment': (_, { text }) =>
    `"${text}" is neither a day such as 2026-05-01 nor a time such as 2026-05-01T18:30:00+01:00.`,
  'fitting-to-come': (around, { from }) => [
    `${around.day(from)} has not come yet; a fitting is entered at most a week ahead.`,
    'Look at the year.',
  ],
  'fitting-ends': () => 'A fitting must end after it begins.',
  'is-elsewhere': (around, { tag, bike, span }) => [
    `${tag} is on bike ${bike} ${spanText(around, span)}.`,
    `Take it off first, or swap the two units. ${DAY_WRONG}`,
  ],
  'place-taken': (around, { bike, tag, place, span }) => [
    `Bike ${bike} has ${tag} as its ${place} ${spanText(around, span)}.`,
    `Take that one off first, or swap the two units. ${DAY_WRONG}`,
  ],
  'hours-to-come': (around, { on }) =>
    `${around.day(on)} has not come yet; hours are entered when they are ridden.`,
  'share-range': (around, { most }) => [
    `The unrecorded share must be more than 0 and at most ${around.number(most)} % of all riding.`,
    'Where hardly any riding was recorded, enter its hours by hand.',
  ],
  'share-ends': (around, { from, to }) =>
    `The time must end after it begins: ${around.day(from)} to ${around.day(to)}.`,
  'declared-range': (around, { most }) => `The hours a week must be from 0 to ${around.number(most)}.`,
  'declared-months': () => 'Name at least one month, as numbers from 1 to 12: 4-10 is April to October.',
  'share-there': (around, { span, fact }) => [
    `A share ${spanText(around, span)} is entered for this bike already${around.fact(fact)}.`,
    'Correct that one, or enter another time.',
  ],
  'on-no-bike': (around, { tag, at }) => `${tag} was on no bike at ${around.day(at)}.`,
  'swap-itself': () => 'A unit cannot be swapped with itself.',
  'other-places': (_, of) => `${of.a} is a ${of.placeOfA} and ${of.b} a ${of.placeOfB}.`,
  'is-marked': (_, { tag, why }) =>
    `${tag} is marked “stop riding” (${why}): have it checked first, or say plainly that it goes on all the same.`,
  'is-out': (around, { bike, since }) => `${bike} is out already, since ${around.day(since)}.`,
  'days-out': (around, { most }) =>
    `It was out on ${around.number(most)} days, and ridden on no more than these.`,
  'bike-marked': (_, { bike, tag, why }) =>
    `${bike} does not go out: ${tag} on it is marked “stop riding” (${why}). Have it checked first, or put another on.`,
  'no-swap': () => 'This swap stands no more: it was taken back, or something came after it.',
  'neither-on': () => 'Neither of the two units is on a bike then.',
  'is-gone': (around, { tag, how, on }) => [
    `${tag} is gone since ${around.day(on)}: ${around.words.gone[how]}.`,
    'If it is back, say so first.',
  ],
  'not-gone': (_, { tag }) => `${tag} is not gone on that day.`,
  'gone-to-come': (around, { on }) => `${around.day(on)} has not come yet.`,
  'fitted-since': (around, { tag, bike, from }) => [
    `${tag} went on bike ${bike} on ${around.day(from)}, after that day.`,
    'Look at the day, or correct that fitting first.',
  ],
  'on-only-then': (around, { tag, fact }) => [
    `${tag} went on only then, and not in place of the other: correct that instead of swapping${around.fact(fact)}.`,
    'An owner or a technician can, in the book on the page of the unit.',
  ],
  'job-open': (_, { tag }) => `${tag} is at the workshop already.`,
  'no-job': (_, { tag }) => `${tag} is not at the workshop. Say first that it arrived.`,
  'no-quiet-week': () => 'That week is no longer quiet. Choose another one.',
  'nobody-invited': () => 'Nobody is ticked. Tick whom to invite.',
  'not-invited': (_, { tag }) =>
    `${tag} cannot be invited any more: it has a day, was invited already, or nothing of it is likely due.`,
  'photos-enough': (_, { most }) =>
    `There are ${most} photographs of it already. Take one back that says little.`,
  'lead-is-done': () =>
    'This booking is done; the unit stands among the bookings again when a service falls due.',
  'day-passed': (around, { day }) => `${around.weekday(day)} has passed.`,
  'no-place': (around, { day, free }) => [
    `There is no place on ${around.weekday(day)}: closed, or full.`,
    free.length === 0
      ? 'No day is free in the next six weeks.'
      : `Free are ${free.map(around.weekday).join(', ')}.`,
  ],
  'other-lead': (_, { lead }) => [
    `This unit has another booking, ${lead}, since.`,
    'Change that one instead.',
  ],
  'lead-settled': (_, { state }) => `This booking is ${state} already.`,
  'account-name': (_, { most }) => `An account has a name of at most ${most} characters, on one line.`,
  'account-there': (_, { name }) => [
    `There is an account ${name} already.`,
    `An owner gives it another password under Settings, Accounts, or by the command: stanchion account ${name} --password.`,
  ],
  'only-mechanic': () => 'Only a mechanic is bound to a fleet.',
  'needs-fleet': (_, { fleets }) => [
    'A mechanic looks after one fleet: name one that there is, on the command line with --fleet.',
    fleets.length === 0 ? 'There is none yet; fleets come by import.' : `There are: ${fleets.join(', ')}.`,
  ],
  'last-owner': () => [
    'This is the only owner; nobody could create accounts any more.',
    'Create another owner first.',
  ],
  'password-length': (_, { least, most, length }) => [
    `A password has from ${least} to ${most} characters; this one has ${length}.`,
    EASY_AND_HARD,
  ],
  'password-common': () => ['This password is one of the commonest, which are guessed first.', EASY_AND_HARD],
  'password-names': () => [
    'This password is only a name that is easily guessed: the account’s, the workshop’s or Stanchion.',
    EASY_AND_HARD,
  ],
  'no-answer': () => 'There is no answer in this.',
  'counts-already': () => 'This ride counts already.',
  'say-when-long': () => 'Say when this track was ridden, and for how many minutes.',
  'say-when': () => 'Say when this ride started.',
  'say-who': () => 'Say whose ride this is, or which bike it was on.',
  'say-bike': () => 'Say which bike this was on.',
  'no-climbs': () => 'Nothing upward in this ride is in doubt.',
  'no-such-climb': (_, { count }) => `Name climbs by their numbers, from 1 to ${count}.`,
  'no-such-recording': () => 'This ride has no such recording beside another one.',
  'no-other-ride': () => 'There is no such other recorded ride.',
  'too-far-apart': () =>
    'The two began more than 15 hours apart: no clock is that wrong, so they are two rides.',
  'clock-right': () => 'The recorder’s clock was right for this ride, so it started when the recorder says.',
  'minutes-known': () =>
    'The recorder says for how long this ride moved; minutes are for tracks without times.',
  'needs-minutes': () => 'This track has no times: say for how many minutes it was ridden.',
  count: () => 'A count needs a part, and numbers of 0 or more.',
};
