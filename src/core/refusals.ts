/** What the ledger refuses, in English: commands say it so, and pages have words for each in every language. */
import type { ServiceKind, UnitKind } from './tokens.js';

/** Alone, or with what to do about it. */
export type Told = string | readonly [message: string, hint: string];

interface Span {
  readonly from: string;
  /** Null where it goes on. */
  readonly to: string | null;
}

const spanText = ({ from, to }: Span): string => `from ${from}${to === null ? ' on' : ` to ${to}`}`;

const aKind = (kind: UnitKind): string => (kind === 'air-shock' ? `an ${kind}` : `a ${kind}`);
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What stands on a fact, so that it cannot be made void. */
export type Holder =
  | 'ledger'
  | 'bike'
  | 'interval'
  | 'fitting'
  | 'hours'
  | 'unrecorded'
  | 'rides'
  | 'race'
  | 'part'
  | 'service';

const HOLDERS: Readonly<Record<Holder, (name: string) => string>> = {
  ledger: () => 'the whole ledger',
  bike: (name) => `bike ${name}`,
  race: (name) => `race ${name}`,
  rides: (count) => `${count} rides; move them to another bike`,
  unrecorded: (id) => `the unrecorded share in fact ${id}`,
  interval: (id) => `the interval in fact ${id}`,
  fitting: (id) => `the fitting in fact ${id}`,
  hours: (id) => `the hours in fact ${id}`,
  part: (id) => `the part in fact ${id}`,
  service: (id) => `the service in fact ${id}`,
};

/** A day that stands in the book already may be the wrong one of the two. */
const DAY_WRONG = 'If that day is wrong, correct it in the service book on the unit’s page.';

export const REFUSALS = {
  'workshop-name': ({ name }: { name: string }) =>
    `The workshop stays "${name}": by that name an export finds its ledger.`,
  'time-zone': ({ zone }: { zone: string }) => `There is no time zone "${zone}".`,
  'unit-kind': ({ tag, before, after }: { tag: string; before: UnitKind; after: UnitKind }): Told => [
    `${tag} has fittings or services as ${aKind(before)}: it cannot become ${aKind(after)}.`,
    'Make those void first, or enter it under a tag of its own.',
  ],
  'weight-range': ({
    ground,
    low,
    high,
    value,
  }: {
    ground: 'smooth' | 'typical' | 'rough';
    low: number;
    high: number;
    value: number;
  }): Told => [
    `The weight of ${ground} ground must be from ${low} to ${high}, not ${value}.`,
    'No hour counts less than 0.5 or more than 3; on a fleet’s bikes it may count up to 4, where there is a fleet.',
  ],
  'weights-fall': ({ smooth, typical, rough }: { smooth: number; typical: number; rough: number }) =>
    `Rougher ground cannot weigh less: smooth ${smooth}, typical ${typical} and rough ${rough} must not fall.`,
  'not-of-unit': (of: {
    tag: string;
    unitKind: UnitKind;
    serviceKind: ServiceKind;
    kinds: readonly ServiceKind[];
  }): Told => [
    `${of.tag} is ${aKind(of.unitKind)}: it has no service kind "${of.serviceKind}".`,
    `It has: ${of.kinds.join(', ')}.`,
  ],
  'no-clock': ({
    tag,
    unknown,
    kinds,
  }: {
    tag: string;
    unknown: readonly ServiceKind[];
    kinds: readonly ServiceKind[];
  }): Told => [`${tag} has no clock "${unknown.join('", "')}".`, `It has: ${kinds.join(', ')}.`],
  'service-to-come': ({ on }: { on: string }) =>
    `${on} has not come yet; a service is logged when it is done.`,
  'no-finding': ({ unknown, names }: { unknown: readonly string[]; names: readonly string[] }) =>
    `There is no finding "${unknown.join('", "')}" here. There are: ${names.join(', ')}.`,
  'foam-rings': ({ said, looks }: { said: string; looks: readonly string[] }) =>
    `Foam rings are ${looks.join(', ')}, not "${said}".`,
  'kind-stays': ({ name }: { name: string }) =>
    `The service kind "${name}" keeps its name and kind of unit; add another instead.`,
  'kind-is-there': ({ unitKind, name }: { unitKind: UnitKind; name: string }): Told => [
    `${capital(aKind(unitKind))} has the service kind "${name}" already.`,
    'Its hours are set by an interval.',
  ],
  'kind-added': ({ name }: { name: string }) => `The service kind "${name}" was added already.`,
  'no-kind': ({ unitKind, serviceKind }: { unitKind: UnitKind; serviceKind: ServiceKind }) =>
    `${capital(aKind(unitKind))} has no service kind "${serviceKind}".`,
  'interval-hours': () => 'The hours must be more than 0 and at most 10 000.',
  'interval-months': () => 'The months must be a whole number from 1 to 240.',
  'interval-ceiling': () => 'The ceiling in moving hours must be more than 0 and at most 10 000.',
  'interval-there': ({ fact }: { fact: string }) =>
    `Fact ${fact} is the rule for these units already; correct that one.`,
  'time-to-come': () => 'That time has not come yet.',
  minutes: () => 'The minutes must be more than 0 and at most 1440, a whole day.',
  'before-it-came': ({
    tag,
    first,
    on,
    fact,
  }: {
    tag: string;
    first: string;
    on: string;
    fact: string;
  }): Told => [
    `${tag} came new on ${first}; it cannot have been serviced on ${on} (fact ${fact}).`,
    DAY_WRONG,
  ],
  held: ({ by, name }: { by: Holder; name: string }) =>
    `This cannot be made void: on it stands ${HOLDERS[by](name)}.`,
  'void-already': ({ fact }: { fact: string }) => `Fact ${fact} is void already.`,
  'same-already': () => 'That is what the fact says already.',
  'name-taken': ({ name, kind }: { name: string; kind: 'unit' | 'bike' | 'rider' | 'fleet' | 'race' }) =>
    `"${name}" is what another ${kind} is called.`,
  'name-alike': ({
    name,
    kind,
    other,
  }: {
    name: string;
    kind: 'unit' | 'bike' | 'rider' | 'fleet' | 'race';
    other: string;
  }): Told => [
    `"${name}" differs only in capital letters from the ${kind} "${other}".`,
    `If it is that one, call it "${other}"; if it is another, give it a name of its own.`,
  ],
  'no-name': ({ name, fault }: { name: string; fault: string }) => `"${name}" cannot be a name: it ${fault}.`,
  'no-moment': ({ text }: { text: string }) =>
    `"${text}" is neither a day such as 2026-05-01 nor a time such as 2026-05-01T18:30:00+01:00.`,
  'fitting-to-come': ({ from }: { from: string }): Told => [
    `${from} has not come yet; a fitting is entered at most a week ahead.`,
    'Look at the year.',
  ],
  'fitting-ends': () => 'A fitting must end after it begins.',
  'is-elsewhere': ({ tag, bike, span }: { tag: string; bike: string; span: Span }): Told => [
    `${tag} is on bike ${bike} ${spanText(span)}.`,
    `Take it off first, or swap the two units. ${DAY_WRONG}`,
  ],
  'place-taken': ({
    bike,
    tag,
    place,
    span,
  }: {
    bike: string;
    tag: string;
    place: 'fork' | 'rear shock';
    span: Span;
  }): Told => [
    `Bike ${bike} has ${tag} as its ${place} ${spanText(span)}.`,
    `Take that one off first, or swap the two units. ${DAY_WRONG}`,
  ],
  'hours-to-come': ({ on }: { on: string }) =>
    `${on} has not come yet; hours are entered when they are ridden.`,
  'share-range': ({ most }: { most: number }): Told => [
    `The unrecorded share must be more than 0 and at most ${most} % of all riding.`,
    'Where hardly any riding was recorded, enter its hours by hand.',
  ],
  'share-ends': ({ from, to }: { from: string; to: string }) =>
    `The time must end after it begins: ${from} to ${to}.`,
  'share-there': ({ from, to, fact }: { from: string; to: string | null; fact: string }): Told => [
    `A share of ${from} to ${to ?? 'now'} is entered for this bike already (fact ${fact}).`,
    'Correct that one, or enter another time.',
  ],
  'on-no-bike': ({ tag, at }: { tag: string; at: string }) => `${tag} was on no bike at ${at}.`,
  'swap-itself': () => 'A unit cannot be swapped with itself.',
  'other-places': (of: {
    a: string;
    placeOfA: 'fork' | 'rear shock';
    b: string;
    placeOfB: 'fork' | 'rear shock';
  }) => `${of.a} is a ${of.placeOfA} and ${of.b} a ${of.placeOfB}.`,
  'neither-on': () => 'Neither of the two units is on a bike then.',
  'ends-already': ({ tag, at }: { tag: string; at: string }) =>
    `The fitting of ${tag} ends at ${at} already.`,
  'on-only-then': ({ tag, fact }: { tag: string; fact: string }): Told => [
    `${tag} went on only then, and not in place of the other: correct that instead of swapping (fact ${fact}).`,
    'An owner or a technician can, in the book on the page of the unit.',
  ],
  'lead-is-done': () => 'This lead is done; a new one opens when a service falls due again.',
  'day-passed': ({ day }: { day: string }) => `${day} has passed.`,
  'no-place': ({ day, free }: { day: string; free: readonly string[] }): Told => [
    `There is no place on ${day}: closed, or full.`,
    free.length === 0 ? 'No day is free in the next six weeks.' : `Free are ${free.join(', ')}.`,
  ],
  'other-lead': ({ lead }: { lead: string }): Told => [
    `This unit has another lead, ${lead}, since.`,
    'Book that one instead.',
  ],
  'lead-settled': ({ state }: { state: 'done' | 'declined' }) => `This lead is ${state} already.`,
  'account-name': ({ most }: { most: number }) =>
    `An account has a name of at most ${most} characters, on one line.`,
  'account-there': ({ name }: { name: string }): Told => [
    `There is an account ${name} already.`,
    `An owner gives it another password under Settings, Accounts, or by the command: stanchion account ${name} --password.`,
  ],
  'only-mechanic': () => 'Only a mechanic is bound to a fleet.',
  'needs-fleet': ({ fleets }: { fleets: readonly string[] }): Told => [
    'A mechanic looks after one fleet: name one that there is, on the command line with --fleet.',
    fleets.length === 0 ? 'There is none yet; fleets come by import.' : `There are: ${fleets.join(', ')}.`,
  ],
  'last-owner': (): Told => [
    'This is the only owner; nobody could make accounts any more.',
    'Make another owner first.',
  ],
  'no-answer': () => 'There is no answer in this.',
  'counts-already': () => 'This ride counts already.',
  'say-when-long': () => 'Say when this track was ridden, and for how many minutes.',
  'say-when': () => 'Say when this ride started.',
  'say-who': () => 'Say whose ride this is, or which bike it was on.',
  'say-bike': () => 'Say which bike this was on.',
  'clock-right': () => 'The recorder’s clock was right for this ride, so it started when the recorder says.',
  'minutes-known': () =>
    'The recorder says for how long this ride moved; minutes are for tracks without times.',
  'needs-minutes': () => 'This track has no times: say for how many minutes it was ridden.',
  count: () => 'A count needs a part, and numbers of 0 or more.',
} as const satisfies Readonly<Record<string, (of: never) => Told>>;

export type RefusalCode = keyof typeof REFUSALS;
/** What the words for a code need to know; none where they need nothing. */
export type RefusalValues<C extends RefusalCode> = Parameters<(typeof REFUSALS)[C]>;
