/** Sheets of what the makers' manuals say: who typed them, who checked them, and which holds for a unit. */
import { canonical } from '../../core/canonical.js';
import type { Fact, SheetFact, UnitFact } from '../../core/ledger/facts.js';
import { isSameSheet, sheetFor, type UnitSheet } from '../../core/ledger/sheet.js';
import { SPRINGS, type Spring, UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import { AlreadyReplaced, ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact, getFact, replaceFact } from '../facts/changeFact.js';
import { getIdOf } from '../names.js';
import { refuse } from '../refuse.js';
import { findWorkshop } from '../settings.js';

/** A model and year of which there are units and no sheet. */
export interface BareModel {
  readonly unitKind: UnitKind;
  readonly spring: Spring | undefined;
  readonly model: string;
  readonly modelYear: number | null;
  readonly units: number;
}

export interface ListedSheet {
  readonly fact: Fact<'sheet'>;
  /** Of a sheet for one unit alone. */
  readonly tag: string | null;
}

/** What the list of sheets shows. */
export interface SheetsPage {
  readonly sheets: readonly ListedSheet[];
  readonly bare: readonly BareModel[];
  readonly workshop: Fact<'workshop'>;
}

/** With more units than these nobody reads a list of models without a sheet. */
const MOST_UNITS = 2000;

export async function getSheetsPage(tx: Tx): Promise<SheetsPage> {
  const facts = await tx.facts.list('sheet');
  const unitIds = facts.map(({ body }) => body.scope.unitId).filter((id) => id !== null);
  const tags = await tx.handles.listOf('unit', unitIds);
  const isFew = !(await tx.handles.areMoreThan('unit', MOST_UNITS));
  const units = isFew ? await tx.facts.list('unit') : [];
  const name = ({ body }: Fact<'sheet'>): string => `${body.scope.model ?? ''} ${body.scope.modelYear ?? ''}`;
  return {
    sheets: [...facts]
      .sort((a, b) => (name(a) < name(b) ? -1 : 1))
      .map((fact) => ({ fact, tag: tags.get(fact.body.scope.unitId ?? '') ?? null })),
    bare: bareModels(
      units.map(({ body }) => body),
      facts.map(({ body }) => body),
    ),
    workshop: (await findWorkshop(tx))!,
  };
}

function bareModels(units: readonly UnitFact[], sheets: readonly SheetFact[]): BareModel[] {
  const bare = new Map<string, BareModel>();
  for (const unit of units) {
    const { unitKind, spring, model, modelYear = null } = unit;
    if (model === null || sheetFor(null, unit, sheets).model !== null) continue;
    const key = canonical([unitKind, spring ?? null, model, modelYear]);
    bare.set(key, { unitKind, spring, model, modelYear, units: (bare.get(key)?.units ?? 0) + 1 });
  }
  return [...bare.values()].sort((a, b) => b.units - a.units || (a.model < b.model ? -1 : 1));
}

/** For which units a sheet is. */
export type SheetAddress = Pick<SheetFact, 'unitKind' | 'spring' | 'scope'>;

/** What the page of one sheet shows. */
export interface SheetPage {
  readonly address: SheetAddress;
  /** Of the one unit that it is for. */
  readonly tag: string | null;
  /** Null where nobody typed one. */
  readonly fact: Fact<'sheet'> | null;
  /** What the unit inherits. */
  readonly inherited: SheetFact | null;
}

/** Returns the sheet that an address names: of a unit, or of a model and perhaps its year. Errors: `not-found`. */
export async function getSheetPage(
  tx: Tx,
  query: Readonly<Record<string, string | undefined>>,
): Promise<SheetPage> {
  const sheets = await tx.facts.list('sheet');
  if (query.unit) {
    const unitId = await getIdOf(tx, 'unit', query.unit);
    const unit = (await tx.facts.current('unit', unitId))!.body;
    const scope = { model: null, modelYear: null, unitId };
    const address = sortOf(unit.unitKind, unit.spring, scope);
    const { model } = sheetFor(
      unitId,
      unit,
      sheets.map(({ body }) => body),
    );
    return { address, tag: unit.tag, fact: factAt(sheets, address), inherited: model };
  }
  const unitKind = UNIT_KINDS.find((one) => one === query.kind);
  const model = query.model?.trim() ?? '';
  const year = query.year ? Number(query.year) : null;
  const isYear = year === null || (Number.isInteger(year) && year >= 1980 && year <= 2200);
  if (!unitKind || model === '' || model.length > 300 || !isYear)
    throw new ServiceError('not-found', 'There is no such sheet.');
  const scope = { model, modelYear: year, unitId: null };
  const spring = SPRINGS.find((one) => one === query.spring);
  const address = sortOf(unitKind, spring, scope);
  return { address, tag: null, fact: factAt(sheets, address), inherited: null };
}

/** Only a coil fork says its spring. */
const sortOf = (unitKind: UnitKind, spring: Spring | undefined, scope: SheetFact['scope']): SheetAddress => ({
  unitKind,
  scope,
  ...(unitKind === 'fork' && spring === 'coil' ? { spring } : {}),
});

const factAt = (sheets: readonly Fact<'sheet'>[], address: SheetAddress): Fact<'sheet'> | null =>
  sheets.find(({ body }) => isSameSheet(body, address)) ?? null;

/** What somebody typed from the manual. */
export type TypedSheet = Pick<SheetFact, 'edition' | 'values'>;

/**
 * Puts what was typed in the place of the sheet that was seen; nobody has checked it then. Returns whether anything is
 * other.
 * Errors: `already-replaced` where somebody else was first, `refused`.
 */
export async function setSheet(
  tx: Tx,
  address: SheetAddress,
  typed: TypedSheet,
  seenId: string | null,
  entry: Entry,
): Promise<boolean> {
  const fact = factAt(await tx.facts.list('sheet'), address);
  const before = fact && { edition: fact.body.edition, values: fact.body.values };
  if (canonical(before) === canonical(typed)) return false;
  if (fact === null && Object.keys(typed.values).length === 0) return false;
  const body = { ...address, ...typed, typedBy: entry.by, checkedBy: null };
  if (fact !== null && seenId === null)
    throw new AlreadyReplaced(fact.recordedBy, fact.recordedAt, false, fact.id);
  if (seenId === null) await addFact(tx, { kind: 'sheet', body }, entry);
  else await replaceFact(tx, seenId, { kind: 'sheet', body }, entry);
  return true;
}

/** Says that a sheet was held against the manual by somebody else than who typed it. Errors: `refused`. */
export async function checkSheet(tx: Tx, factId: string, entry: Entry): Promise<void> {
  const fact = await getFact(tx, factId);
  if (fact.kind !== 'sheet') throw new ServiceError('not-found', 'There is no such sheet.');
  const { body } = fact as Fact<'sheet'>;
  if (body.typedBy === entry.by) refuse('sheet-own-check');
  await replaceFact(tx, factId, { kind: 'sheet', body: { ...body, checkedBy: entry.by } }, entry);
}

/** Returns what the manual says of a unit, as far as somebody typed it. */
export async function getUnitSheet(tx: Tx, unitId: string, unit: UnitFact): Promise<UnitSheet> {
  const sheets = [
    ...(await tx.facts.list('sheet', { subject: tx.workshopId })),
    ...(await tx.facts.list('sheet', { subject: unitId })),
  ];
  return sheetFor(
    unitId,
    unit,
    sheets.map(({ body }) => body),
  );
}
