import { listTray, type TrayRow } from '../flow/listTray.js';
import type { InboxRow, Tx } from '../ports.js';

export interface Named {
  readonly handle: string;
  readonly name: string;
}

export interface TrayView {
  readonly asking: readonly TrayRow[];
  readonly riders: readonly Named[];
  readonly bikes: readonly (Named & { readonly rider: string | null })[];
  /** Files of the drop folder that could not be used. */
  readonly aside: readonly InboxRow[];
}

const byName = (a: Named, b: Named): number => (a.name < b.name ? -1 : 1);

export async function getTrayView(tx: Tx): Promise<TrayView> {
  const handles = await tx.handles.all('rider');
  const riders = (await tx.contacts.list()).map(({ riderId, name }) => ({
    handle: handles.get(riderId) ?? riderId,
    name,
  }));
  const bikes = (await tx.facts.list('bike')).map(({ body: { handle, name, riderId } }) => ({
    handle,
    name,
    rider: riderId === null ? null : (handles.get(riderId) ?? null),
  }));
  const aside = (await tx.inbox.list()).filter((row) => row.settled && row.outcome === 'set-aside');
  return { asking: await listTray(tx), riders: riders.sort(byName), bikes: bikes.sort(byName), aside };
}
