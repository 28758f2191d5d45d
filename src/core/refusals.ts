/** What the ledger refuses: a code each, with the values that its words need. Each language has words for each. */

import type { GoneWay, Ground, HandleFault, ServiceKind, UnitKind } from './tokens.js';

/** Days and moments as they were written. */
export interface RefusedSpan {
  readonly from: string;
  /** Null where it goes on. */
  readonly to: string | null;
}

/** What stands on a fact, so that it cannot be made void. */
export type Holder =
  | 'ledger'
  | 'bike'
  | 'interval'
  | 'membership'
  | 'fitting'
  | 'hours'
  | 'unrecorded'
  | 'declared'
  | 'rides'
  | 'race'
  | 'part'
  | 'service';

/** What people give names to. */
export type NamedThing = 'unit' | 'bike' | 'rider' | 'fleet' | 'race';
export type UnitPlace = 'fork' | 'rear shock';

/** `null` where the words need no value. */
export interface Refusals {
  'workshop-name': { name: string };
  'time-zone': { zone: string };
  'unit-kind': { tag: string; before: UnitKind; after: UnitKind };
  'weight-range': { ground: Ground; low: number; high: number; value: number };
  'landing-range': { most: number; value: number };
  'weights-fall': { smooth: number; typical: number; rough: number };
  'not-of-unit': { tag: string; unitKind: UnitKind; serviceKind: ServiceKind; kinds: readonly ServiceKind[] };
  'no-clock': { tag: string; unknown: readonly ServiceKind[]; kinds: readonly ServiceKind[] };
  'service-to-come': { on: string };
  'service-there': { tag: string; serviceKind: ServiceKind; on: string; fact: string; who: string };
  'no-finding': { unknown: readonly string[]; names: readonly string[] };
  'foam-rings': { said: string; looks: readonly string[] };
  'put-back-or-new': { name: string; said: string };
  'ride-unseen': { names: readonly string[] };
  'ride-harmed': { seen: readonly (readonly [name: string, word: string])[] };
  'sheet-own-check': null;
  'sheet-lines': { unknown: readonly string[]; names: readonly string[] };
  'kind-former': { serviceKind: ServiceKind };
  'kind-stays': { name: string };
  'kind-is-there': { unitKind: UnitKind; name: string };
  'kind-added': { name: string };
  'no-kind': { unitKind: UnitKind; serviceKind: ServiceKind };
  'interval-hours': null;
  'interval-months': null;
  'interval-ceiling': null;
  'interval-there': { fact: string };
  'time-to-come': null;
  minutes: null;
  'before-it-came': { tag: string; first: string; on: string; fact: string };
  held: { by: Holder; name: string };
  'void-already': { fact: string };
  'nothing-to-tell': { kind: ServiceKind };
  'same-already': null;
  'name-taken': { name: string; kind: NamedThing };
  'name-alike': { name: string; kind: NamedThing; other: string };
  'no-name': { name: string; fault: HandleFault };
  'no-moment': { text: string };
  'fitting-to-come': { from: string };
  'fitting-ends': null;
  'is-elsewhere': { tag: string; bike: string; span: RefusedSpan };
  'place-taken': { bike: string; tag: string; place: UnitPlace; span: RefusedSpan };
  'hours-to-come': { on: string };
  'share-range': { most: number };
  'share-ends': { from: string; to: string };
  'declared-range': { most: number };
  'declared-months': null;
  'share-there': { span: RefusedSpan; fact: string };
  'on-no-bike': { tag: string; at: string };
  'swap-itself': null;
  'other-places': { a: string; placeOfA: UnitPlace; b: string; placeOfB: UnitPlace };
  'neither-on': null;
  'no-swap': null;
  'is-marked': { tag: string; why: string };
  'is-out': { bike: string; since: string };
  'days-out': { most: number };
  'bike-marked': { bike: string; tag: string; why: string };
  'is-gone': { tag: string; how: GoneWay; on: string };
  'not-gone': { tag: string };
  'gone-to-come': { on: string };
  'fitted-since': { tag: string; bike: string; from: string };
  'on-only-then': { tag: string; fact: string };
  'job-open': { tag: string };
  'no-job': { tag: string };
  'no-quiet-week': null;
  'nobody-invited': null;
  'invitation-went': null;
  'not-invited': { tag: string };
  'photos-enough': { most: number };
  'lead-is-done': null;
  'day-passed': { day: string };
  'no-place': { day: string; free: readonly string[] };
  'other-lead': { lead: string };
  'lead-settled': { state: 'done' | 'declined' };
  'account-name': { most: number };
  'account-there': { name: string };
  'only-mechanic': null;
  'needs-fleet': { fleets: readonly string[] };
  'last-owner': null;
  'password-length': { least: number; most: number; length: number };
  'password-common': null;
  'password-names': null;
  'no-answer': null;
  'counts-already': null;
  'say-when-long': null;
  'say-when': null;
  'say-who': null;
  'say-bike': null;
  'clock-right': null;
  'no-climbs': null;
  'no-such-climb': { count: number };
  'no-such-recording': null;
  'no-other-ride': null;
  'too-far-apart': null;
  'minutes-known': null;
  'needs-minutes': null;
  count: null;
}

export type RefusalCode = keyof Refusals;
/** The arguments that say what is refused. */
export type RefusalValues<C extends RefusalCode> = Refusals[C] extends null ? [] : [of: Refusals[C]];
