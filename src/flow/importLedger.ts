import { canonical } from '../core/canonical.js';
import type { Fact, FactBodies, FactKind } from '../core/facts.js';
import { defaultRestarts, findServiceKind } from '../core/serviceKinds.js';
import { ServiceError } from '../errors.js';
import type { HandleKind, Tx } from '../ports.js';
import { type Problem, problem } from '../problems.js';
import { addFitting, type Entry } from './fittings.js';
import { addHours } from './handHours.js';
import type { ImportDocument, Row } from './importDocument.js';
import { recountUnit } from './refreshDue.js';
import { addService } from './services.js';
import { setInterval } from './setInterval.js';
import { findWorkshop } from './settings.js';

/** What an import found wrong; nothing of it was kept. */
export class ImportRefused extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super(problems.map((one) => `${one.source}: ${one.message}`).join('\n'));
  }
}

/**
 * Takes a whole document or nothing of it. A row that the ledger holds already, in any version, adds nothing; a row
 * with an id whose content is new replaces what stood there. Returns the ids of the facts it added.
 * Errors: ImportRefused with every problem found.
 */
export async function importLedger(tx: Tx, document: ImportDocument, entry: Entry): Promise<string[]> {
  const run = new Import(tx, entry);
  await run.workshop(document);
  await run.fleets(document);
  await run.riders(document);
  await run.bikes(document);
  await run.units(document);
  run.stopIfWrong();
  await run.intervals(document);
  await run.fittings(document);
  await run.services(document);
  await run.hours(document);
  await run.races(document);
  await run.parts(document);
  await run.shelf(document);
  run.stopIfWrong();
  await run.recount();
  return run.ids;
}

class Import {
  readonly ids: string[] = [];
  readonly #problems: Problem[] = [];
  constructor(
    readonly tx: Tx,
    readonly entry: Entry,
  ) {}

  stopIfWrong(): void {
    if (this.#problems.length > 0) throw new ImportRefused(this.#problems);
  }

  async workshop({ workshop }: ImportDocument): Promise<void> {
    const standing = await findWorkshop(this.tx);
    if (!workshop) {
      if (!standing)
        this.#wrong(
          'no-workshop',
          'This data folder has no workshop yet: the file must hold "workshop".',
          'workshop',
        );
      this.stopIfWrong();
      return;
    }
    const { at, ...body } = workshop;
    if (standing && standing.body.handle !== body.handle) {
      this.#wrong('other-workshop', `This data folder belongs to workshop "${standing.body.handle}".`, at);
      this.stopIfWrong();
    }
    await this.#put('workshop', standing, body);
  }

  /** Units without a fitting or service, and all where a setting changed, have not been counted yet. */
  async recount(): Promise<void> {
    for (const { entityId } of await this.tx.facts.list('unit'))
      await recountUnit(this.tx, entityId, this.entry.at);
  }

  async fleets({ fleets }: ImportDocument): Promise<void> {
    for (const { id, name } of fleets) await this.#putNamed('fleet', 'fleet', id, { handle: id, name });
  }

  async riders({ riders }: ImportDocument): Promise<void> {
    for (const rider of riders) {
      const riderId = (await this.tx.handles.find('rider', rider.id)) ?? (await this.#newRider(rider.id));
      const before = await this.tx.contacts.find(riderId);
      const isSameAddress = before?.email === rider.email;
      const { name, email, phone, language } = rider;
      const confirmedAt = rider.addressConfirmed
        ? ((isSameAddress ? before?.confirmedAt : null) ?? this.entry.at)
        : isSameAddress
          ? (before?.confirmedAt ?? null)
          : null;
      await this.tx.contacts.put({
        riderId,
        name,
        email,
        phone,
        language,
        confirmedAt,
        unsubscribedAt: before?.unsubscribedAt ?? null,
      });
    }
  }

  async bikes({ bikes }: ImportDocument): Promise<void> {
    for (const { id, rider, fleet, name, type, at } of bikes) {
      const riderId = await this.#resolve('rider', rider, `${at}.rider`);
      const fleetId = await this.#resolve('fleet', fleet, `${at}.fleet`);
      await this.#putNamed('bike', 'bike', id, { handle: id, riderId, fleetId, name, type });
    }
  }

  async units({ units }: ImportDocument): Promise<void> {
    for (const { at: _at, ...body } of units) await this.#putNamed('unit', 'unit', body.tag, body);
  }

  async intervals({ intervals }: ImportDocument): Promise<void> {
    const isNew = await this.#newRows('interval');
    for (const { at, scope, ...rule } of intervals) {
      await this.#refusing(at, async () => {
        const fleetId = await this.#resolve('fleet', scope.fleet, `${at}.scope.fleet`);
        const unitId = await this.#resolve('unit', scope.unit, `${at}.scope.unit`);
        const body = { ...rule, scope: { fleetId, model: scope.model, unitId } };
        if (!isNew(body)) return;
        const id = await setInterval(this.tx, body, this.entry.by, this.entry.at);
        if (id !== null) this.ids.push(id);
      });
    }
  }

  async fittings({ fittings }: ImportDocument): Promise<void> {
    const isNew = await this.#newRows('fitting');
    for (const { at, unit, bike, from, to } of fittings) {
      await this.#refusing(at, async () => {
        const unitId = await this.#resolve('unit', unit, `${at}.unit`);
        const bikeId = await this.#resolve('bike', bike, `${at}.bike`);
        if (unitId === null || bikeId === null) return;
        const body = { unitId, bikeId, from, to };
        if (isNew(body)) this.ids.push(await addFitting(this.tx, body, this.entry));
      });
    }
  }

  async services({ services }: ImportDocument): Promise<void> {
    const isNew = await this.#newRows('service');
    for (const { at, unit, restarts, ...service } of services) {
      await this.#refusing(at, async () => {
        const unitId = await this.#resolve('unit', unit, `${at}.unit`);
        if (unitId === null) return;
        const known = (await this.tx.facts.current('unit', unitId))!;
        const clocks = restarts ?? defaultRestarts(known.body.unitKind, service.serviceKind, []);
        const row = { ...service, unitId };
        const body = clocks === null ? row : { ...row, restarts: clocks };
        if (isNew(body)) this.ids.push(await addService(this.tx, body, this.entry));
      });
    }
  }

  async hours({ hours }: ImportDocument): Promise<void> {
    const isNew = await this.#newRows('hours');
    for (const { at, bike, ...row } of hours) {
      await this.#refusing(at, async () => {
        const bikeId = await this.#resolve('bike', bike, `${at}.bike`);
        if (bikeId === null) return;
        const body = { bikeId, ...row };
        if (isNew(body)) this.ids.push(await addHours(this.tx, body, this.entry));
      });
    }
  }

  async races({ races }: ImportDocument): Promise<void> {
    for (const { at, id, bikes, ...race } of races) {
      const bikeIds: string[] = [];
      for (const [i, bike] of bikes.entries()) {
        const bikeId = await this.#resolve('bike', bike, `${at}.bikes[${i}]`);
        if (bikeId !== null) bikeIds.push(bikeId);
      }
      await this.#putNamed('race', 'race', id, { handle: id, ...race, bikeIds });
    }
  }

  async parts({ parts }: ImportDocument): Promise<void> {
    const isNew = await this.#newRows('part');
    for (const { at, ...body } of parts) {
      if (!findServiceKind(body.unitKind, body.serviceKind, [])) {
        this.#wrong('refused', `A ${body.unitKind} has no service kind "${body.serviceKind}".`, at);
      } else if (isNew(body)) {
        this.ids.push((await this.tx.facts.add({ kind: 'part', body, ...this.entry })).id);
      }
    }
  }

  async shelf({ shelf }: ImportDocument): Promise<void> {
    for (const { at: _at, ...body } of shelf) {
      const counted = await this.tx.facts.list('shelf');
      await this.#put(
        'shelf',
        counted.find((fact) => fact.body.part === body.part),
        body,
      );
    }
  }

  async #newRider(handle: string): Promise<string> {
    const fact = await this.tx.facts.add({ kind: 'rider', body: {}, ...this.entry });
    await this.tx.handles.set('rider', handle, fact.entityId);
    this.ids.push(fact.id);
    return fact.entityId;
  }

  async #putNamed<K extends FactKind>(
    kind: K,
    handleKind: HandleKind,
    handle: string,
    body: FactBodies[K],
  ): Promise<void> {
    const entityId = await this.tx.handles.find(handleKind, handle);
    const standing = entityId === undefined ? undefined : await this.tx.facts.current(kind, entityId);
    const fact = await this.#put(kind, standing, body);
    if (fact && entityId === undefined) await this.tx.handles.set(handleKind, handle, fact);
  }

  /** Returns the entity of a fact that was added, or null where it stood already. */
  async #put<K extends FactKind>(
    kind: K,
    standing: Pick<Fact<K>, 'id' | 'entityId'> | undefined,
    body: FactBodies[K],
  ): Promise<string | null> {
    if (standing) {
      const versions = (await this.tx.facts.versions(kind)).filter(
        (fact) => canonical(fact.body) === canonical(body),
      );
      if (versions.length > 0) return null;
    }
    const fact = { kind, body, ...this.entry };
    const added = standing ? await this.tx.facts.replace(standing.id, fact) : await this.tx.facts.add(fact);
    this.ids.push(added.id);
    return added.entityId;
  }

  /** Returns a test that says which rows are new: rows alike are counted, as many times as they come. */
  async #newRows<K extends FactKind>(kind: K): Promise<(body: FactBodies[K] | object) => boolean> {
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

  async #resolve(kind: HandleKind, handle: string | null, source: string): Promise<string | null> {
    if (handle === null) return null;
    const id = await this.tx.handles.find(kind, handle);
    if (id === undefined) this.#wrong('unknown-id', `There is no ${kind} "${handle}".`, source);
    return id ?? null;
  }

  #wrong(code: string, message: string, source: string): void {
    this.#problems.push(problem(code, message, source));
  }

  async #refusing(at: Row['at'], work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      if (!(error instanceof ServiceError) || error.code !== 'refused') throw error;
      this.#wrong('refused', error.hint === undefined ? error.message : `${error.message} ${error.hint}`, at);
    }
  }
}
