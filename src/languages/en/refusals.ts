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
  'workshop-name': (_, { name }) =>
    `The workshop keeps the name "${name}": an exported file finds its ledger by it.`,
  'time-zone': (_, { zone }) => `There is no time zone "${zone}".`,
  'unit-kind': (around, { tag, before, after }) => [
    `${tag} has fittings or services as ${a(around, before)}: it cannot become ${a(around, after)}.`,
    'Take those back first, or enter this one under a tag of its own.',
  ],
  'weight-range': (around, { ground, low, high, value }) => [
    `The weight of ${around.words.ground[ground]} ground must be from ${around.number(low)} to ${around.number(high)}, not ${around.number(value)}.`,
    'No hour counts less than 0.5 or more than 3; on a fleet’s bikes it may count up to 4, where there is a fleet.',
  ],
  'landing-range': (around, { most, value }) => [
    `Landings: a second in the air may add from 0 to ${around.number(most)} terrain seconds, not ${around.number(value)}.`,
    'With 0, landings add nothing.',
  ],
  'weights-fall': (around, { smooth, typical, rough }) =>
    `Terrain weights cannot fall as the ground gets rougher: ${around.words.ground.smooth} ${around.number(smooth)}, ${around.words.ground.typical} ${around.number(typical)}, ${around.words.ground.rough} ${around.number(rough)}.`,
  'not-of-unit': (around, of) => [
    `Service: ${of.tag} is ${a(around, of.unitKind)} and has no "${around.serviceKind(of.serviceKind)}".`,
    `It has: ${kindsText(around, of.kinds)}.`,
  ],
  'no-clock': (around, { tag, unknown, kinds }) => [
    `Restarts: ${tag} counts no hours for "${unknown.map(around.serviceKind).join('", "')}".`,
    `It counts them for: ${kindsText(around, kinds)}.`,
  ],
  'service-to-come': (around, { on }) => `${around.day(on)} is in the future. Log a service once it is done.`,
  'service-there': (around, { tag, serviceKind, on, fact, who }) => [
    `${tag} already has its ${around.serviceKind(serviceKind)} of ${around.day(on)}, logged by ${who}${around.fact(fact)}. Nothing was saved.`,
    'If it was done twice on that day, say so with --again; to add parts to the first, correct it.',
  ],
  'no-finding': (_, { unknown, names }) =>
    `There is no finding "${unknown.join('", "')}" here. There are: ${names.join(', ')}.`,
  'foam-rings': (_, { said, looks }) => `Foam rings are ${looks.join(', ')}, not "${said}".`,
  'put-back-or-new': (_, { name, said }) => `"${name}" is put-back or new, not "${said}".`,
  'ride-unseen': (_, { names }) => [
    `The result cannot be “ride”: nobody looked at ${names.map(lookName).join(', ')}.`,
    'Look at all of it, or choose repair or replace. The “stop riding” mark stays until then.',
  ],
  'ride-harmed': (_, { seen }) => [
    `The result cannot be “ride” with what was seen: ${seenText(seen)}.`,
    'Choose repair or replace. The “stop riding” mark stays until it is looked at again.',
  ],
  'sheet-own-check': () => [
    'The person who typed a sheet cannot check it.',
    'Somebody else checks it against the manual, signed in with their own account.',
  ],
  'sheet-lines': (_, { unknown, names }) =>
    `A sheet for such a unit has no line "${unknown.join('", "')}". It has: ${names.join(', ')}.`,
  'kind-former': (around, { serviceKind }) => [
    `A service "${around.serviceKind(serviceKind)}" can no longer be logged: taking the lowers off is a lower-leg service.`,
    'Log lower-leg, and say that the wipers are new.',
  ],
  'kind-stays': (_, { name }) =>
    `The name and the kind of unit of "${name}" cannot be changed. Add another service kind instead.`,
  'kind-is-there': (around, { unitKind, name }) => [
    `${capital(a(around, unitKind))} already has the service kind "${around.serviceKind(name)}".`,
    'Set its hours under Intervals.',
  ],
  'kind-added': (_, { name }) => `The service kind "${name}" is there already.`,
  'no-kind': (around, { unitKind, serviceKind }) =>
    `${capital(a(around, unitKind))} has no service kind "${around.serviceKind(serviceKind)}".`,
  'interval-hours': () => 'The terrain hours must be more than 0 and at most 10 000.',
  'interval-months': () => 'The months must be a whole number from 1 to 240.',
  'interval-ceiling': () => 'The ceiling in moving hours must be more than 0 and at most 10 000.',
  'interval-there': (around, { fact }) =>
    `These units already have an interval for this service${around.fact(fact)}. Correct that one.`,
  'time-to-come': () => 'That time is in the future.',
  minutes: () => 'The minutes must be more than 0 and at most 1440, a whole day.',
  'before-it-came': (around, { tag, first, on, fact }) => [
    `${tag} came new on ${around.day(first)}; it cannot have been serviced on ${around.day(on)}${around.fact(fact)}.`,
    DAY_WRONG,
  ],
  held: (around, { by, name }) =>
    `This cannot be taken back while something depends on it: ${HOLDERS[by](name, around)}.`,
  'nothing-to-tell': (around, { kind }) =>
    `There is nothing to tell the rider: the ${around.serviceKind(kind)} is neither coming up nor due.`,
  'void-already': (around, { fact }) => `This line was taken back already${around.fact(fact)}.`,
  'same-already': () => 'That is what it says already.',
  'name-taken': (_, { name, kind }) => `Another ${kind} is already called "${name}".`,
  'name-alike': (_, { name, kind, other }) => [
    `"${name}" differs only in capital letters from the ${kind} "${other}".`,
    `If it is that one, call it "${other}"; if it is another, give it a name of its own.`,
  ],
  'no-name': (around, { name, fault }) => `"${name}" cannot be a name: it ${around.words.nameFault[fault]}.`,
  'no-moment': (_, { text }) =>
    `"${text}" is neither a day such as 2026-05-01 nor a time such as 2026-05-01T18:30:00+01:00.`,
  'fitting-to-come': (around, { from }) => [
    `${around.day(from)} is too far ahead: a fitting is entered at most a week before its day.`,
    'Check the year.',
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
    `${around.day(on)} is in the future. Enter hours once they are ridden.`,
  'share-range': (around, { most }) => [
    `The unrecorded share must be more than 0 and at most ${around.number(most)} % of all riding.`,
    'Where hardly any riding was recorded, enter its hours by hand.',
  ],
  'share-ends': (around, { from, to }) =>
    `The unrecorded share must end after it begins: ${around.day(from)} to ${around.day(to)}.`,
  'declared-range': (around, { most }) => `The hours a week must be from 0 to ${around.number(most)}.`,
  'declared-months': () => 'Name at least one month, as numbers from 1 to 12: 4-10 is April to October.',
  'share-there': (around, { span, fact }) => [
    `This bike already has an unrecorded share ${spanText(around, span)}${around.fact(fact)}.`,
    'Correct that one, or choose other days.',
  ],
  'on-no-bike': (around, { tag, at }) => `${tag} was on no bike at ${around.day(at)}.`,
  'swap-itself': () => 'A unit cannot be swapped with itself.',
  'other-places': (_, of) => `${of.a} is a ${of.placeOfA} and ${of.b} a ${of.placeOfB}.`,
  'is-marked': (_, { tag, why }) =>
    `${tag} is marked “stop riding” (${why}). Have it checked first, or confirm that it goes on anyway.`,
  'is-out': (around, { bike, since }) => `${bike} has been out since ${around.day(since)}.`,
  'days-out': (around, { most }) =>
    `Days ridden: the bike was out for ${around.number(most)} days, so it cannot have been ridden on more.`,
  'bike-marked': (_, { bike, tag, why }) =>
    `${bike} cannot go out: ${tag} on it is marked “stop riding” (${why}). Have it checked first, or fit another.`,
  'no-swap': () =>
    'This swap can no longer be taken back: it was taken back already, or something changed after it.',
  'neither-on': () => 'Neither of the two units is on a bike at that time.',
  'is-gone': (around, { tag, how, on }) => [
    `${tag} has been gone since ${around.day(on)}: ${around.words.gone[how]}.`,
    'If it is back, enter that first.',
  ],
  'not-gone': (_, { tag }) => `${tag} is not gone on that day.`,
  'gone-to-come': (around, { on }) => `The last day here, ${around.day(on)}, is in the future.`,
  'fitted-since': (around, { tag, bike, from }) => [
    `${tag} went on bike ${bike} on ${around.day(from)}, after that day.`,
    'Check the day, or correct that fitting first.',
  ],
  'on-only-then': (around, { tag, fact }) => [
    `${tag} was fitted at that very time, and not in place of the other. Correct that fitting instead of swapping${around.fact(fact)}.`,
    'An owner or a technician can do that in the service book on the unit’s page.',
  ],
  'job-open': (_, { tag }) => `${tag} is already at the workshop.`,
  'no-job': (_, { tag }) => `${tag} is not at the workshop. Enter first that it arrived.`,
  'no-quiet-week': () => 'That week is no longer quiet. Choose another one.',
  'invitation-went': () =>
    'This invitation can no longer be taken back: its mail has gone, or the rider has answered.',
  'nobody-invited': () => 'Nobody is ticked. Tick whom to invite.',
  'not-invited': (_, { tag }) =>
    `${tag} cannot be invited any more: it has a day, was already invited, or nothing on it is likely due.`,
  'photos-enough': (_, { most }) =>
    `There are already ${most} photographs of it. Take one back that you do not need.`,
  'lead-is-done': () => 'This booking is done. The unit is listed again when a service falls due.',
  'day-passed': (around, { day }) => `${around.weekday(day)} has passed.`,
  'no-place': (around, { day, free }) => [
    `There is no place on ${around.weekday(day)}: the day is closed or full.`,
    free.length === 0
      ? 'No day is free in the next six weeks.'
      : `Free days: ${free.map(around.weekday).join(', ')}.`,
  ],
  'other-lead': (_, { lead }) => [`This unit now has another booking, ${lead}.`, 'Change that one instead.'],
  'lead-settled': (_, { state }) => `This booking is already ${state}.`,
  'account-name': (_, { most }) => `The name of an account has at most ${most} characters, on one line.`,
  'account-there': (_, { name }) => [
    `There is already an account ${name}.`,
    `An owner can set another password under Settings, Accounts, or with the command: stanchion account ${name} --password.`,
  ],
  'only-mechanic': () => 'Only a mechanic has a fleet. Leave the fleet empty.',
  'needs-fleet': (_, { fleets }) => [
    'A mechanic looks after one fleet. Choose it, or name it on the command line with --fleet.',
    fleets.length === 0 ? 'There is none yet. Add the fleet first.' : `There are: ${fleets.join(', ')}.`,
  ],
  'last-owner': () => [
    'This is the only owner: without one nobody can create accounts.',
    'Create another owner first.',
  ],
  'password-length': (_, { least, most, length }) => [
    `A password has from ${least} to ${most} characters; this one has ${length}.`,
    EASY_AND_HARD,
  ],
  'password-common': () => [
    'This password is among the most common ones, which are guessed first.',
    EASY_AND_HARD,
  ],
  'password-names': () => [
    'This password is only a name that is easily guessed: the account’s, the workshop’s or Stanchion.',
    EASY_AND_HARD,
  ],
  'no-answer': () => 'No answer was chosen.',
  'counts-already': () => 'This ride counts already.',
  'say-when-long': () => 'Say when this track was ridden, and for how many minutes.',
  'say-when': () => 'Say when this ride started.',
  'say-who': () => 'Say whose ride this is, or which bike it was on.',
  'say-bike': () => 'Say which bike this was on.',
  'no-climbs': () => 'No climb of this ride is in doubt.',
  'no-such-climb': (_, { count }) => `Name climbs by their numbers, from 1 to ${count}.`,
  'no-such-recording': () => 'This ride has no second recording of that name.',
  'no-other-ride': () => 'There is no other recorded ride of that name.',
  'too-far-apart': () =>
    'The two began more than 15 hours apart: no clock is that wrong, so they are two rides.',
  'clock-right': () => 'The recorder’s clock was right for this ride, so it started when the recorder says.',
  'minutes-known': () =>
    'The recorder says for how long this ride moved; minutes are for tracks without times.',
  'needs-minutes': () => 'This track has no times: say for how many minutes it was ridden.',
  count: () => 'A count of the shelf needs a part, and amounts of 0 or more.',
};
