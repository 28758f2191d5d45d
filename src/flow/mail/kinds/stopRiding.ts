import type { StoppedUnit } from '../../../core/notices/kinds/stopRiding.js';
import { bikeNow } from '../bikeNow.js';
import type { MailSource, MailWork } from './mailKind.js';

/** Says which units must not be ridden, and why. */
export const stopRiding: MailSource = {
  stops: null,
  toRider: async (work) => {
    const { workshop, frame } = work;
    const units = await stoppedUnits(work);
    if (units.length === 0) return null;
    return { mail: 'stop-riding', content: { workshop, rider: frame.rider, units } };
  },
  toWorkshop: async (work) => {
    const { workshop } = work;
    const units = await stoppedUnits(work);
    return units.length === 0 ? null : { mail: 'stop-riding', content: { workshop, rider: null, units } };
  },
};

async function stoppedUnits({ tx, notices, now, workshop }: MailWork): Promise<StoppedUnit[]> {
  const units: StoppedUnit[] = [];
  for (const unitId of new Set(notices.map((notice) => notice.unitId!))) {
    const unit = await tx.facts.current('unit', unitId);
    const mark = (await tx.facts.list('mark', { subject: unitId })).at(-1);
    if (!unit || !mark?.body.stop) continue;
    const { bike, riderId } = await bikeNow(tx, unitId, now, workshop.timeZone);
    const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
    const { tag, unitKind, model } = unit.body;
    units.push({
      ...{ tag, unitKind, model, bike, why: mark.body.why },
      rider: contact ? { name: contact.name, phone: contact.phone } : null,
    });
  }
  return units;
}
