/** Whom and which bikes an answer in the tray may name, and what a person means by what they type. */
import { findParts } from '../../core/findWords.js';
import type { Fact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { TrayRow } from './listTray.js';
import type { TrayGroup } from './trayGroups.js';

export interface HandleAndName {
  readonly handle: string;
  readonly name: string;
}

/** Whom and which bikes an answer may name. */
export interface TrayNames {
  readonly riders: readonly HandleAndName[];
  readonly bikes: readonly (HandleAndName & { readonly rider: string | null })[];
  /** False where there are many: these are those of the rides themselves, and others are typed. */
  readonly areAll: boolean;
}

/** Where there are more, a list of all is of no use to anybody. */
const MOST_LISTED = 150;
/** Of so many that are found at most one is meant. */
const MOST_FOUND = 20;

const byName = (a: { readonly name: string }, b: { readonly name: string }): number =>
  a.name < b.name ? -1 : 1;

/** Returns what the forms for these rides name. */
export async function namedFor(
  tx: Tx,
  rows: readonly TrayRow[],
  groups: readonly TrayGroup[],
): Promise<TrayNames> {
  const isMany = (kind: 'rider' | 'bike'): Promise<boolean> => tx.handles.areMoreThan(kind, MOST_LISTED);
  const areAll = !(await isMany('rider')) && !(await isMany('bike'));
  const facts = areAll ? await tx.facts.list('bike') : await bikesOf(tx, rows, groups);
  const contacts = areAll
    ? await tx.contacts.listFirst(MOST_LISTED)
    : await tx.contacts.listOf([
        ...new Set([
          ...(await ridersOf(tx, rows, groups)),
          ...facts.flatMap(({ body }) => body.riderId ?? []),
        ]),
      ]);
  const handles = await tx.handles.listOf(
    'rider',
    contacts.map(({ riderId }) => riderId),
  );
  const riders = contacts.map(({ riderId, name }) => ({ handle: handles.get(riderId) ?? riderId, name }));
  const bikes = facts.map(({ body: { handle, name, riderId } }) => ({
    ...{ handle, name },
    rider: riderId === null ? null : (handles.get(riderId) ?? null),
  }));
  return { riders: riders.sort(byName), bikes: bikes.sort(byName), areAll };
}

async function idsCalled(
  tx: Tx,
  kind: 'rider' | 'bike',
  handles: readonly (string | null)[],
): Promise<string[]> {
  const ids: string[] = [];
  for (const handle of new Set(handles)) {
    const id = handle === null ? undefined : await tx.handles.find(kind, handle);
    if (id !== undefined) ids.push(id);
  }
  return ids;
}

const ridersOf = (tx: Tx, rows: readonly TrayRow[], groups: readonly TrayGroup[]): Promise<string[]> =>
  idsCalled(
    tx,
    'rider',
    [...rows, ...groups].map(({ rider }) => rider),
  );

/** Those of the riders, and those that the rides were handed over for. */
async function bikesOf(
  tx: Tx,
  rows: readonly TrayRow[],
  groups: readonly TrayGroup[],
): Promise<readonly Fact<'bike'>[]> {
  const named = rows.flatMap(({ bike, named }) => [bike, ...named]);
  const facts = [
    ...(await tx.facts.listTouching('bike', await ridersOf(tx, rows, groups))),
    ...(await tx.facts.listMany('bike', await idsCalled(tx, 'bike', named))),
  ];
  return [...new Map(facts.map((fact) => [fact.id, fact])).values()];
}

/** Returns what a person means: by its id, or else all that are found by parts of names. Shape: ids, and how each is called. */
export async function listMeant(
  tx: Tx,
  kind: 'rider' | 'bike',
  typed: string,
): Promise<readonly { readonly id: string; readonly called: string }[]> {
  const exact = await tx.handles.find(kind, typed.trim());
  if (exact !== undefined) return [{ id: exact, called: typed }];
  const found = (await tx.findWords.find(findParts(typed), MOST_FOUND)).filter((one) => one.kind === kind);
  const ids = found.map(({ id }) => id);
  const handles = await tx.handles.listOf(kind, ids);
  const names =
    kind === 'rider'
      ? (await tx.contacts.listOf(ids)).map(({ riderId, name }) => ({ id: riderId, name }))
      : (await tx.facts.listMany('bike', ids)).map(({ entityId, body }) => ({
          id: entityId,
          name: body.name,
        }));
  return names.sort(byName).map(({ id, name }) => ({ id, called: `${name} (${handles.get(id) ?? id})` }));
}
