import { canonical } from '../../core/canonical.js';
import type { Fact, FactBodies } from '../../core/ledger/facts.js';
import { isSameSheet } from '../../core/ledger/sheet.js';
import { ServiceError } from '../../errors.js';
import { SAY_NOTHING, type SayLeft } from '../../ports/loops.js';
import type { Tx } from '../../ports/store.js';
import { type Problem, problem } from '../../problems.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact } from '../facts/changeFact.js';
import { bodyOfRow, type FactRowKind, type Resolve } from '../facts/factRows.js';
import { isSameScope } from '../facts/intervalScope.js';
import {
  DOCUMENT_KEYS,
  type DocumentRow,
  type DocumentRowKind,
  type ImportDocument,
  nameOfRow,
  type RowKind,
  type Rows,
} from '../facts/ledgerDocument.js';
import { putRider } from '../facts/putRider.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { setGone } from '../fittings/whereabouts.js';
import { calledNow, isNamed, type NamedKind, NamesAlike, nameIn } from '../names.js';
import { refuseCommand } from '../refuse.js';
import { findWorkshop } from '../settings.js';
import { copyLedger } from './copyLedger.js';
import { rowsThere } from './rowsThere.js';

/** `refused`: why the ledger refused a row, for whoever says it in words. */
export interface ImportProblem extends Problem {
  readonly refused?: ServiceError;
}

/** What an import found wrong; nothing of it was kept. */
export class ImportRefused extends Error {
  constructor(readonly problems: readonly ImportProblem[]) {
    super(problems.map((one) => `${one.source}: ${one.message}`).join('\n'));
  }
}

/** What people know the rows by, kind by kind as the file names them; kinds without any are left out. */
export type NamesByKind = { readonly [key in ImportKey]?: readonly string[] };
export type ImportKey = (typeof DOCUMENT_KEYS)[DocumentRowKind] | 'workshop' | 'weights';

export interface Imported {
  /** Of the facts that were added. */
  readonly ids: readonly string[];
  readonly added: NamesByKind;
  /** What was known before and is now as the file says. */
  readonly changed: NamesByKind;
  /** Bikes that were added beside one of the same owner and the same name: a slip of the pen, or two alike. */
  readonly twins: readonly Twin[];
}

export interface Twin {
  readonly bike: string;
  readonly of: string;
  readonly name: string;
  readonly fact: string;
}

/**
 * Takes a whole document or nothing of it. A row that the ledger holds already, in any version, adds nothing; a row
 * with an id whose content is new replaces what stood there.
 * Errors: ImportRefused with every problem found.
 */
export async function importLedger(
  tx: Tx,
  document: ImportDocument,
  entry: Entry,
  told: SayLeft = SAY_NOTHING,
): Promise<Imported> {
  const run = new Import(tx, entry, told);
  run.once(document);
  if (document.ledger) await run.ledger(document.ledger);
  await run.workshop(document);
  run.stopIfWrong();
  for (const kind of Object.keys(DOCUMENT_KEYS) as DocumentRowKind[]) await run.rows(kind, document);
  await run.weights(document);
  run.stopIfWrong();
  await follow(tx, run.touched, entry.at, told);
  return {
    ids: run.ids,
    added: run.added,
    changed: run.changed,
    twins: await listTwins(tx, run.added.bikes),
  };
}

async function listTwins(tx: Tx, added: readonly string[] = []): Promise<Twin[]> {
  if (added.length === 0) return [];
  const isAdded = new Set(added);
  const before = new Map<string, string>();
  const twins: Twin[] = [];
  for (const { id: fact, body } of await tx.facts.list('bike')) {
    const key = canonical([body.riderId, body.fleetId, body.name]);
    const of = before.get(key);
    if (of === undefined) before.set(key, body.handle);
    else if (isAdded.has(body.handle)) twins.push({ bike: body.handle, of, name: body.name, fact });
  }
  return twins;
}

/** How a row finds the fact that it would replace; kinds that are not here are compared whole. */
type FindStanding<K extends FactRowKind> = (tx: Tx, body: FactBodies[K]) => Promise<StandingFacts<K>>;
interface StandingFacts<K extends FactRowKind> {
  readonly entityId: string | undefined;
  readonly fact: Fact<K> | undefined;
}

const byHandle =
  <K extends NamedKind>(kind: K): FindStanding<K> =>
  async (tx, body) => {
    const entityId = await tx.handles.find(kind, nameIn(body));
    return { entityId, fact: entityId === undefined ? undefined : await tx.facts.current(kind, entityId) };
  };

const among =
  <K extends FactRowKind>(
    kind: K,
    isSame: (a: FactBodies[K], b: FactBodies[K]) => boolean,
  ): FindStanding<K> =>
  async (tx, body) => {
    const fact = (await tx.facts.list(kind)).find((one) => isSame(one.body, body));
    return { entityId: fact?.entityId, fact };
  };

const STANDING: { readonly [K in FactRowKind]?: FindStanding<K> } = {
  workshop: among('workshop', () => true),
  weights: among('weights', () => true),
  fleet: byHandle('fleet'),
  bike: byHandle('bike'),
  unit: byHandle('unit'),
  race: byHandle('race'),
  serviceKind: among('serviceKind', (a, b) => a.unitKind === b.unitKind && a.name === b.name),
  interval: among('interval', isSameScope),
  sheet: among('sheet', isSameSheet),
  shelf: among('shelf', (a, b) => a.part === b.part),
};

class Import {
  readonly ids: string[] = [];
  readonly added: { [key in ImportKey]?: string[] } = {};
  readonly changed: { [key in ImportKey]?: string[] } = {};
  readonly touched = nothingTouched();
  readonly #problems: ImportProblem[] = [];
  readonly #known = new Map<string, string>();
  readonly #names: NamesAlike;
  constructor(
    readonly tx: Tx,
    readonly entry: Entry,
    readonly told: SayLeft,
  ) {
    this.#names = new NamesAlike(tx);
  }

  stopIfWrong(): void {
    if (this.#problems.length > 0) throw new ImportRefused(this.#problems);
  }

  /** Nobody could say which of two rows is meant. */
  once(document: ImportDocument): void {
    for (const { at, name, there } of rowsThere(document))
      this.#wrong('row-there', `${name} stands in ${there} already, with other values.`, at);
    this.stopIfWrong();
  }

  async ledger(ledger: NonNullable<ImportDocument['ledger']>): Promise<void> {
    await this.#refusing('ledger', async () => {
      this.ids.push(...(await copyLedger(this.tx, ledger, this.touched)));
    });
    this.stopIfWrong();
  }

  async workshop({ workshop }: ImportDocument): Promise<void> {
    const standing = await findWorkshop(this.tx);
    // A file that says nothing of it begins nothing, and stops nothing.
    const kept = workshop?.offers ?? standing?.body.offers;
    const offers = kept === undefined ? {} : { offers: kept };
    const from = workshop?.remindersFrom ?? standing?.body.remindersFrom ?? null;
    if (workshop && standing && standing.body.handle !== workshop.id)
      this.#wrong(
        'other-workshop',
        `This data folder belongs to workshop "${standing.body.handle}".`,
        'workshop',
      );
    else if (workshop) await this.#take('workshop', { ...workshop, remindersFrom: from, ...offers }, null);
    else if (!standing)
      this.#wrong(
        'no-workshop',
        'This data folder has no workshop yet. Give it its name on the page (stanchion serve), or import a JSON file that holds "workshop".',
        'workshop',
      );
  }

  /** After the fleets, for which heavier ones are. */
  async weights({ weights }: ImportDocument): Promise<void> {
    if (weights) await this.#take('weights', weights, null);
  }

  async rows(kind: DocumentRowKind, document: ImportDocument): Promise<void> {
    const rows: readonly (DocumentRow & Rows[DocumentRowKind])[] = document[DOCUMENT_KEYS[kind]];
    if (rows.length === 0) return;
    if (kind === 'rider') {
      for (const rider of document.riders)
        await this.#refusing(rider.at, () => this.#takeRider(rider), rider.id);
      return;
    }
    const isNew = kind in STANDING ? null : await this.#newRows(kind);
    for (const [i, row] of rows.entries()) {
      await this.told(`taking ${DOCUMENT_KEYS[kind]}`, rows.length - i);
      await this.#take(kind, row as DocumentRow & Rows[typeof kind], isNew);
    }
  }

  async #takeRider(rider: Rows['rider']): Promise<void> {
    const riderId = await this.tx.handles.find('rider', rider.id);
    if (riderId === undefined) await this.#names.refuseAlike('rider', rider.id);
    const before = riderId === undefined ? undefined : await this.tx.contacts.find(riderId);
    const fact = await putRider(this.tx, rider, this.entry);
    const told = ['name', 'email', 'phone', 'language'] as const;
    if (fact) {
      this.ids.push(fact.id);
      this.#names.add('rider', rider.id, fact.entityId);
      this.#note(this.added, 'rider', rider);
    } else if (told.some((key) => before?.[key] !== rider[key])) this.#note(this.changed, 'rider', rider);
  }

  #note(among: Import['added'], kind: RowKind, row: object): void {
    const key = kind in DOCUMENT_KEYS ? DOCUMENT_KEYS[kind as DocumentRowKind] : (kind as ImportKey);
    const names = among[key];
    if (names) names.push(nameOfRow(row));
    else among[key] = [nameOfRow(row)];
  }

  async #take<K extends FactRowKind>(
    kind: K,
    { at, ...row }: DocumentRow & Rows[K],
    isNew: ((body: FactBodies[K]) => boolean) | null,
  ): Promise<void> {
    const work = async (): Promise<void> => {
      const body = await bodyOfRow(this.tx, kind, row as unknown as Rows[K], this.#resolver(at));
      const did = isNew === null ? await this.#put(kind, body) : isNew(body) && (await this.#add(kind, body));
      if (did) this.#note(this[did], kind, row);
    };
    await this.#refusing(at, work, nameOfRow(row));
  }

  async #add<K extends FactRowKind>(kind: K, body: FactBodies[K]): Promise<'added'> {
    const { tx, entry, touched } = this;
    if (kind === 'gone') this.ids.push(...(await setGone(tx, body as FactBodies['gone'], entry, touched)));
    else this.ids.push((await addFact(tx, { kind, body }, entry, touched)).id);
    return 'added';
  }

  /** Puts a fact in the place of the one that it names, or adds it; one that stood there already adds nothing. */
  async #put<K extends FactRowKind>(kind: K, body: FactBodies[K]): Promise<'added' | 'changed' | null> {
    const { tx, entry, touched } = this;
    const { entityId, fact: standing } = await (STANDING[kind] as FindStanding<K>)(tx, body);
    if (entityId !== undefined) {
      const versions = await tx.facts.versions(kind, entityId);
      if (versions.some((one) => canonical(one.body) === canonical(body))) return null;
      if (isNamed(kind)) await this.#refuseEarlierName(kind, entityId, body as FactBodies[NamedKind]);
    }
    const name = isNamed(kind) && entityId === undefined ? nameIn(body as FactBodies[NamedKind]) : null;
    if (name !== null) await this.#names.refuseAlike(kind as NamedKind, name);
    const fact = standing
      ? await replaceFact(
          tx,
          standing.id,
          { kind, body: withFormerFleets(body, standing.body) },
          entry,
          touched,
        )
      : await addFact(tx, { kind, body, ...(entityId === undefined ? {} : { entityId }) }, entry, touched);
    this.ids.push(fact.id);
    if (name !== null) {
      await tx.handles.give(kind as NamedKind, name, fact.entityId, fact.seq);
      this.#names.add(kind as NamedKind, name, fact.entityId);
    }
    return standing ? 'changed' : 'added';
  }

  /** Another thing, or the same under the name of before: nobody but a person can tell. */
  async #refuseEarlierName(kind: NamedKind, entityId: string, body: FactBodies[NamedKind]): Promise<void> {
    const [name, now] = [nameIn(body), await calledNow(this.tx, kind, entityId)];
    if (name !== now)
      refuseCommand(
        `"${name}" is what ${kind} "${now}" was called before.`,
        `If it is that one, call it "${now}"; if it is another, give it a name of its own.`,
      );
  }

  /** Returns a test that says which rows are new: rows alike are counted, as many times as they come. */
  async #newRows<K extends FactRowKind>(kind: K): Promise<(body: FactBodies[K]) => boolean> {
    const held = new Map<string, Set<string>>();
    for (const fact of await this.tx.facts.versions(kind)) {
      const key = canonical(fact.body);
      held.set(key, (held.get(key) ?? new Set()).add(fact.entityId));
    }
    const left = new Map([...held].map(([key, entities]) => [key, entities.size]));
    return (body) => {
      const key = canonical(body);
      const count = left.get(key) ?? 0;
      left.set(key, count - 1);
      return count <= 0;
    };
  }

  #resolver(at: string): Resolve {
    return async (kind, handle, key) => {
      const cached = this.#known.get(`${kind} ${handle}`);
      if (cached !== undefined) return cached;
      const id = await this.tx.handles.find(kind, handle);
      const isThere = id !== undefined && (await this.tx.facts.current(kind, id)) !== undefined;
      if (!isThere) throw new UnknownHandle(`There is no ${kind} "${handle}".`, placeIn(at, key));
      this.#known.set(`${kind} ${handle}`, id);
      return id;
    };
  }

  #wrong(code: string, message: string, source: string, subject?: string, refused?: ServiceError): void {
    const wrong = problem(code, message, source, subject || undefined);
    this.#problems.push(refused === undefined ? wrong : { ...wrong, refused });
  }

  async #refusing(at: DocumentRow['at'], work: () => Promise<void>, subject?: string): Promise<void> {
    try {
      await work();
    } catch (error) {
      if (error instanceof UnknownHandle) this.#wrong('unknown-id', error.message, error.source, subject);
      else if (error instanceof ServiceError && error.code === 'refused')
        this.#wrong('refused', error.message, at, subject, error);
      else throw error;
    }
  }
}

/** A file that says nothing of the fleets that a bike was of before leaves them as they are. */
const withFormerFleets = <B extends FactBodies[FactRowKind]>(body: B, standing: B): B =>
  'formerFleets' in standing && !('formerFleets' in body)
    ? { ...body, formerFleets: standing.formerFleets }
    : body;

class UnknownHandle extends Error {
  constructor(
    message: string,
    readonly source: string,
  ) {
    super(message);
  }
}

/** `fittings[2].unit` of a JSON file, `row 4, column unit` of a CSV file. */
const placeIn = (at: string, key: string): string =>
  at.startsWith('row ') ? `${at}, column ${key}` : `${at}.${key}`;
