/** The weekly look: which jobs came back after a service here, and which claims wait for an answer. */
import { addDays, addMonths, dayOf } from '../../core/days/calendar.js';
import type { ClaimFact, Fact, HeardFact, JobFact, ServiceFact, UnitFact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { naturalOrder } from '../../core/naturalOrder.js';
import type { ComebackCause, ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { riderOf } from '../entry.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';

const WEEK_DAYS = 7;
const MONTHS = 12;

/** A job that came back, with its unit. */
export interface ComebackJob {
  readonly tag: string;
  readonly model: string | null;
  readonly job: JobFact & { readonly comeback: NonNullable<JobFact['comeback']> };
}

/** How many jobs of a model came back after a service of a kind, for one cause. */
export interface ComebackRow {
  readonly model: string | null;
  readonly serviceKind: ServiceKind;
  readonly cause: ComebackCause | null;
  readonly count: number;
  /** Of so many services of that kind on that model: those of the year, and older ones that came back in it. */
  readonly services: number;
}

export interface OpenClaim {
  readonly tag: string;
  readonly claim: ClaimFact;
}

/** A rider who says that something is wrong since a service, until the unit comes. */
export interface RiderComplaint {
  readonly tag: string;
  readonly heard: HeardFact;
  readonly said: Day;
  readonly rider: string | null;
  readonly phone: string | null;
}

export interface ComebacksPage {
  /** The latest first. */
  readonly complaints: readonly RiderComplaint[];
  /** Those that arrived in the last days, newest first. */
  readonly week: readonly ComebackJob[];
  /** Most first. */
  readonly year: readonly ComebackRow[];
  /** The oldest first. */
  readonly claims: readonly OpenClaim[];
}

export async function getComebacks(tx: Tx, now: Instant): Promise<ComebacksPage> {
  const today = dayOf(now, (await getWorkshop(tx)).timeZone);
  const from = addMonths(today, -MONTHS);
  const jobs = (await tx.facts.list('job')).filter(({ body }) => body.comeback && body.arrivedOn > from);
  const complaints = await listComplaints(tx);
  const claims = (await tx.facts.list('claim')).filter(({ body }) => isClaimOpen(body));
  const cameBack = new Set(
    jobs.map(({ body: { unitId, comeback } }) => keyOf(unitId, comeback!.serviceKind, comeback!.on)),
  );
  const isCounted = ({ unitId, serviceKind, on, by }: ServiceFact): boolean =>
    by === 'here' && (on > from || cameBack.has(keyOf(unitId, serviceKind, on)));
  // Services are counted only where something came back.
  const services =
    jobs.length === 0 ? [] : (await tx.facts.list('service')).filter(({ body }) => isCounted(body));
  const units = await unitsOf(tx, [...jobs, ...claims, ...services]);
  const back = jobs.flatMap(({ body }): ComebackJob[] => {
    const unit = units.get(body.unitId);
    const { comeback } = body;
    return unit && comeback ? [{ tag: unit.tag, model: unit.model, job: { ...body, comeback } }] : [];
  });
  const weekAgo = addDays(today, -WEEK_DAYS);
  return {
    complaints,
    week: back
      .filter(({ job }) => job.arrivedOn > weekAgo)
      .sort((a, b) => (a.job.arrivedOn < b.job.arrivedOn ? 1 : -1)),
    year: rowsOf(
      back,
      services.map(({ body }) => [units.get(body.unitId)?.model ?? null, body.serviceKind] as const),
    ),
    claims: claims
      .map(({ body }) => ({ tag: units.get(body.unitId)?.tag ?? '', claim: body }))
      .sort((a, b) => (a.claim.openedOn < b.claim.openedOn ? -1 : 1)),
  };
}

const keyOf = (unitId: string, kind: ServiceKind, on: Day): string => `${unitId} ${kind} ${on}`;

export async function listComplaints(tx: Tx): Promise<RiderComplaint[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const complaints: RiderComplaint[] = [];
  for (const { body, since, recordedBy } of await tx.facts.list('heard')) {
    if (body.isWell) continue;
    const jobs = await tx.facts.list('job', { subject: body.unitId });
    if (jobs.some((job) => job.since >= since)) continue;
    const { unit, fittings, bikes } = await getUnitLedger(tx, body.unitId, zone);
    // Whoever said it, though the unit may be somebody else's by now; said at the counter, whose it was then.
    const then = bikes.get(fittingNow(fittings, since)?.bikeId ?? '')?.riderId ?? null;
    const riderId = riderOf(recordedBy) ?? then;
    const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
    // Its rider was forgotten: the words were theirs.
    if (riderId !== null && !contact) continue;
    const whose = { rider: contact?.name ?? null, phone: contact?.phone ?? null };
    complaints.push({ tag: unit.tag, heard: body, said: dayOf(since, zone), ...whose });
  }
  return complaints.reverse();
}

export const isClaimOpen = ({ step }: ClaimFact): boolean => step === 'opened' || step === 'sent';

async function unitsOf(
  tx: Tx,
  facts: readonly Fact<'job' | 'claim' | 'service'>[],
): Promise<Map<string, UnitFact>> {
  const ids = [...new Set(facts.map(({ body }) => body.unitId))];
  return new Map((await tx.facts.listMany('unit', ids)).map(({ entityId, body }) => [entityId, body]));
}

function rowsOf(
  back: readonly ComebackJob[],
  services: readonly (readonly [model: string | null, kind: ServiceKind])[],
): ComebackRow[] {
  const rows = new Map<string, ComebackRow>();
  for (const { model, job } of back) {
    const { serviceKind, cause } = job.comeback;
    const key = JSON.stringify([model, serviceKind, cause]);
    const all = services.filter(([of, kind]) => of === model && kind === serviceKind).length;
    const count = (rows.get(key)?.count ?? 0) + 1;
    rows.set(key, { model, serviceKind, cause, count, services: all });
  }
  return [...rows.values()].sort(
    (a, b) =>
      b.count - a.count ||
      naturalOrder(a.model ?? '', b.model ?? '') ||
      (a.cause ?? '').localeCompare(b.cause ?? '', 'en'),
  );
}
