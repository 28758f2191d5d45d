import { INVITED, type InvitedJob } from '../../../core/notices/kinds/invitation.js';
import { listFreeDaysIn } from '../../plan/leadDays.js';
import { bikeNow } from '../bikeNow.js';
import type { MailSource, RiderWork } from './mailKind.js';

const FREE_DAYS = 3;

/** Invites a rider into a quiet week, with all units that were chosen for it. */
export const invitation: MailSource = {
  stops: 'stop',
  toRider: async (work) => {
    const { tx, notices, frame, maker, now } = work;
    const invited = [];
    for (const { cause } of notices) {
      const { unitId, before } = INVITED.read(cause);
      const facts = await tx.facts.list('invited', { subject: unitId });
      const fact = facts.find(({ body }) => body.before === before);
      if (fact) invited.push(fact.body);
    }
    const [first] = invited;
    if (!first) return null;
    const jobs: InvitedJob[] = [];
    for (const { unitId, serviceKind } of invited) {
      const job = await jobOf(work, unitId, serviceKind);
      if (job) jobs.push(job);
    }
    if (jobs.length === 0) return null;
    const { from, to, before } = first;
    const units = invited.map(({ unitId, serviceKind }) => ({ unitId, jobs: [serviceKind] }));
    const freeDays = (await listFreeDaysIn(tx, units, { from, to }, now)).slice(0, FREE_DAYS);
    const links = maker && { ownPage: maker.own('page'), stopMails: maker.own('stop') };
    return { mail: 'invitation', content: { ...frame, week: { from, to }, before, jobs, freeDays, links } };
  },
};

async function jobOf(
  { tx, now, workshop, maker }: RiderWork,
  unitId: string,
  serviceKind: string,
): Promise<InvitedJob | null> {
  const unit = (await tx.facts.current('unit', unitId))?.body;
  if (!unit) return null;
  const { bike } = await bikeNow(tx, unitId, now, workshop.timeZone);
  const typed = (workshop.offers ?? []).find(
    (one) => one.unitKind === unit.unitKind && one.serviceKind === serviceKind,
  );
  return {
    bike: bike ?? unit.tag,
    tag: unit.tag,
    unitKind: unit.unitKind,
    serviceKind,
    price: typed?.price ?? null,
    turnaround: typed?.turnaround ?? null,
    links: maker?.item(unitId, serviceKind) ?? null,
  };
}
