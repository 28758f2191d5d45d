/** A job that changes on the bench: its rider is asked, says yes or not now, and what was not wanted stays advised. */
import { dayOf } from '../../core/days/calendar.js';
import type { Fact, JobQuestionFact } from '../../core/ledger/facts.js';
import type { AnsweredBy } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import type { Entry } from '../entry.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { addFact, replaceFact } from './changeFact.js';
import { changeJob, findStay } from './jobs.js';

export type JobAsked = Pick<JobQuestionFact, 'from' | 'to' | 'why' | 'price' | 'day'>;
export type JobQuestion = Fact<'jobQuestion'>;

/** Returns what was asked last in a stay; null where nothing was. */
export const questionOf = (asked: readonly JobQuestion[], arrivedOn: string): JobQuestion | null =>
  asked.filter(({ body }) => body.arrivedOn === arrivedOn).at(-1) ?? null;

/** Returns what is asked of a unit that is at the workshop now. */
export async function findQuestion(tx: Tx, unitId: string): Promise<JobQuestion | null> {
  const stay = await findStay(tx, unitId);
  if (stay === null) return null;
  return questionOf(await tx.facts.list('jobQuestion', { subject: unitId }), stay.job.arrivedOn);
}

/** Asks whether another job may be done, in place of what was asked before in this stay. Errors: `refused`. */
export async function askJob(tx: Tx, unitId: string, asked: JobAsked, entry: Entry): Promise<string> {
  const stay = await findStay(tx, unitId);
  if (stay === null)
    return refuse('no-job', { tag: (await tx.facts.current('unit', unitId))?.body.tag ?? '' });
  const { arrivedOn } = stay.job;
  const body = { unitId, arrivedOn, ...asked, answer: 'asked', answeredBy: null } as const;
  const before = await findQuestion(tx, unitId);
  const fact = { kind: 'jobQuestion' as const, body };
  if (before?.body.answer === 'asked')
    return (await replaceFact(tx, before.id, fact, { ...entry, why: 'asked again' })).id;
  return (await addFact(tx, fact, entry)).id;
}

/**
 * Writes down an answer. A yes promises the new price and day. Shape: `seen` is the question as it was shown.
 * Errors: `already-replaced` where it was answered or asked anew meanwhile, `refused` where it is no question.
 */
export async function answerJob(
  tx: Tx,
  unitId: string,
  seen: string,
  said: { readonly answer: 'yes' | 'not-now'; readonly by: AnsweredBy },
  entry: Entry,
): Promise<string> {
  const fact = await tx.facts.find(seen);
  if (fact?.kind !== 'jobQuestion') return refuse('same-already');
  const asked = fact.body as JobQuestionFact;
  if (asked.unitId !== unitId || asked.answer !== 'asked') return refuse('same-already');
  const body = { ...asked, answer: said.answer, answeredBy: said.by };
  const { id } = await replaceFact(tx, seen, { kind: 'jobQuestion', body }, { ...entry, why: said.answer });
  const stay = await findStay(tx, unitId);
  if (said.answer === 'yes' && stay !== null && stay.job.arrivedOn === asked.arrivedOn) {
    const change = {
      ...(asked.price === null ? {} : { price: asked.price }),
      ...(asked.day === null ? {} : { promisedFor: asked.day }),
    };
    if (Object.keys(change).length > 0) await changeJob(tx, unitId, stay.factId, change, entry);
  }
  return id;
}

/** A job that was advised and not wanted then, and is still to do. */
export interface Advised extends Pick<JobQuestionFact, 'to' | 'why'> {
  readonly on: Day;
}

/** Returns what was advised of a unit and not wanted then, until such a service is logged: the latest of each job. */
export async function listAdvised(tx: Tx, unitId: string): Promise<Advised[]> {
  const asked = await tx.facts.list('jobQuestion', { subject: unitId });
  if (asked.length === 0) return [];
  const { timeZone } = await getWorkshop(tx);
  const services = await tx.facts.list('service', { subject: unitId });
  const latest = new Map(asked.map((fact) => [fact.body.to, fact]));
  return [...latest.values()].flatMap(({ body, recordedAt }) => {
    const on = dayOf(recordedAt, timeZone);
    const isDone = services.some(
      (one) =>
        one.body.on >= body.arrivedOn &&
        (one.body.serviceKind === body.to || one.body.restarts.includes(body.to)),
    );
    return body.answer === 'not-now' && !isDone ? [{ to: body.to, why: body.why, on }] : [];
  });
}
