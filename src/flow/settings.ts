import type { Fact, IntervalFact, WorkshopFact } from '../core/ledger/facts.js';
import type { IntervalRule, Weights } from '../core/ledger/ledger.js';
import type { AddedServiceKind } from '../core/ledger/serviceKinds.js';
import { DEFAULT_WEIGHTS } from '../core/ledger/weight.js';
import type { MinuteTerms } from '../core/plan/jobMinutes.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports/store.js';
import type { Day } from '../units.js';

/** Errors: `refused` while no workshop has been imported. */
export async function getWorkshop(tx: Tx): Promise<WorkshopFact> {
  const workshop = await findWorkshop(tx);
  if (workshop) return workshop.body;
  throw new ServiceError('refused', 'There is no workshop in this data folder yet.', {
    hint: 'Give it its name on the page (stanchion serve), or import it: stanchion import FILE.json',
  });
}

export async function findWorkshop(tx: Tx): Promise<Fact<'workshop'> | undefined> {
  return (await tx.facts.list('workshop')).at(-1);
}

/** Returns whether reminders go on a day. */
export const hasBegun = ({ remindersFrom }: WorkshopFact, today: Day): boolean =>
  remindersFrom != null && remindersFrom <= today;

export async function getWeights(tx: Tx): Promise<Weights> {
  return (await tx.facts.list('weights')).at(-1)?.body ?? DEFAULT_WEIGHTS;
}

/** What the page of the settings shows: the fact, so that who changes it says what was seen. */
export interface SettingsPage {
  readonly fact: Fact<'workshop'>;
  readonly weights: Weights;
}

export const getSettingsPage = async (tx: Tx): Promise<SettingsPage> => ({
  fact: (await findWorkshop(tx))!,
  weights: await getWeights(tx),
});

/** The service kinds that the workshop added. */
export async function listAddedKinds(tx: Tx): Promise<AddedServiceKind[]> {
  return (await tx.facts.list('serviceKind')).map(({ body: { unitKind, name, ...rest } }) => ({
    unitKind,
    name,
    terrainHours: rest.terrainHours,
    months: rest.months,
    ...(rest.benchMinutes === null ? {} : { benchMinutes: rest.benchMinutes }),
    ...(rest.restarts === undefined ? {} : { restarts: rest.restarts }),
    ...(rest.restartedBy === undefined ? {} : { restartedBy: rest.restartedBy }),
  }));
}

/** Returns what decides how long jobs take on the bench. */
export const getMinuteTerms = async (tx: Tx): Promise<MinuteTerms> => ({
  added: await listAddedKinds(tx),
  own: (await findWorkshop(tx))?.body.jobMinutes ?? [],
});

/** Rules for all units, and those for the units named. */
export async function listIntervalRules(tx: Tx, unitIds: readonly string[]): Promise<IntervalRule[]> {
  const facts = await tx.facts.listMany('interval', [tx.workshopId, ...unitIds]);
  return facts.map((fact) => ruleOf(fact.body));
}

/** Returns an interval fact as the core takes it. */
export const ruleOf = ({ movingHoursCeiling, ...rule }: IntervalFact): IntervalRule =>
  movingHoursCeiling === 'default' ? rule : { ...rule, movingHoursCeiling };
