/** The table of routes as tests walk it: each with the ids that its address names. */
import type { Named } from '../../src/flow/rights.js';
import { ROUTES, type RouteKey } from '../../src/web/routes.js';
import type { TeamWorld } from './teamWorld.js';

export type Ids = Readonly<Record<Named, string>>;

export interface Entry {
  readonly key: RouteKey;
  readonly method: string;
  readonly path: string;
  readonly who: 'anybody' | 'link' | readonly string[];
  readonly names: Readonly<Record<string, Named>>;
}

export const entries: Entry[] = Object.entries(ROUTES).map(([key, access]) => {
  const [method = '', path = ''] = key.split(' ');
  const { who, names = {} } = access as { who: Entry['who']; names?: Entry['names'] };
  return { key: key as RouteKey, method, path, who, names };
});
export const guarded = entries.filter((entry) => Array.isArray(entry.who));

export const addressOf = ({ path, names }: Entry, ids: Ids): string =>
  path.replace(/:(\w+)/g, (_, part: string) => encodeURIComponent(ids[names[part]!]));

/** What there is: the workshop's own, and by fleet. */
export async function idsIn({ store }: TeamWorld): Promise<{ shop: Ids; oak: Ids; marsh: Ids }> {
  return store.read(async (tx) => {
    const rideOn = async (handle: string): Promise<string> => {
      const bikeId = (await tx.handles.find('bike', handle))!;
      return (await tx.rides.listCounted(bikeId))[0]!.id;
    };
    const lineOf = async (tag: string): Promise<string> => {
      const subject = (await tx.handles.find('unit', tag))!;
      return (await tx.facts.list('fitting', { subject }))[0]!.id;
    };
    const photoOf = async (tag: string): Promise<string> => {
      const subject = (await tx.handles.find('unit', tag))!;
      return (await tx.facts.list('photo', { subject }))[0]!.entityId;
    };
    const [lead] = await tx.leads.list();
    const [mail] = await tx.mails.list();
    const [asking] = await tx.rides.listAsking();
    const account = await tx.accounts.findByName('tech');
    const rider = 'r1';
    const shared = { rider, lead: lead!.id, mail: mail!.id, question: asking!.id, account: account!.id };
    const kinds = { list: 'due.csv', 'unit kind': 'fork', 'service kind': 'lower-leg' };
    const of = async (unit: string, bike: string, race: string, fleet: string): Promise<Ids> => ({
      ...{ ...shared, ...kinds, unit, bike, race, fleet },
      ride: await rideOn(bike),
      line: await lineOf(unit),
      photo: await photoOf(unit),
    });
    return {
      shop: await of('F-0001', 'b1', 'r-oak', 't1'),
      oak: await of('F-0501', 'x1', 'r-oak', 't1'),
      marsh: await of('F-0601', 'y1', 'r-elm', 't2'),
    };
  });
}
