import { canonical } from '../../core/canonical.js';
import {
  DOCUMENT_KEYS,
  type DocumentRow,
  type DocumentRowKind,
  type ImportDocument,
  type Rows,
} from '../facts/ledgerDocument.js';

type OfRow = { readonly [K in DocumentRowKind]?: (row: Rows[K]) => string };

/** What a row of each kind is put in the place of; kinds that are not here are compared whole. */
const CALLED: OfRow = {
  fleet: ({ id }) => id,
  rider: ({ id }) => id,
  bike: ({ id }) => id,
  race: ({ id }) => id,
  unit: ({ tag }) => tag,
  serviceKind: ({ unitKind, name }) => `${unitKind} ${name}`,
  interval: ({ unitKind, serviceKind, scope }) =>
    [unitKind, serviceKind, scope.fleet, scope.model, scope.unit].filter((part) => part !== null).join(' '),
  sheet: ({ unitKind, spring = 'air', scope }) =>
    [scope.unit ?? `${unitKind} ${spring} ${scope.model}`, scope.modelYear]
      .filter((part) => part !== null)
      .join(' '),
  shelf: ({ part }) => part,
};

interface RowThere {
  readonly at: string;
  readonly name: string;
  /** Where it stands first. */
  readonly there: string;
}

/** Returns the rows that would overwrite another of the same file; one that says the same again does no harm. */
export const rowsThere = (document: ImportDocument): RowThere[] =>
  (Object.keys(CALLED) as DocumentRowKind[]).flatMap((kind) =>
    clashesIn(kind, document[DOCUMENT_KEYS[kind]]),
  );

function clashesIn<K extends DocumentRowKind>(
  kind: K,
  rows: readonly (DocumentRow & Rows[DocumentRowKind])[],
): RowThere[] {
  const called = CALLED[kind] as (row: Rows[DocumentRowKind]) => string;
  const first = new Map<string, { readonly at: string; readonly content: string }>();
  return rows.flatMap(({ at, ...row }) => {
    const name = called(row as Rows[DocumentRowKind]);
    const [content, there] = [canonical(row), first.get(name)];
    if (!there) first.set(name, { at, content });
    return there && there.content !== content ? [{ at, name, there: there.at }] : [];
  });
}
