import type { Selectable } from 'kysely';
import { findWords } from '../../core/findWords.js';
import type { BikeFact, UnitFact } from '../../core/ledger/facts.js';
import { type FindTable, FOUND_KINDS, type FoundKind } from '../../ports/handles.js';
import { chunked, type Scope } from '../scope.js';
import type { Tables } from '../tables.js';

/** FoundBy that very many share are looked through so far. */
const MOST_LOOKED_AT = 5000;
const ROWS_AT_ONCE = 200;
/** Behind every word that begins with the same signs. */
const LAST_SIGN = '\u{10ffff}';

type FoundBy = Map<string, ReadonlySet<string>>;

export function findTable(scope: Scope): FindTable {
  const { db, workshopId } = scope;
  return {
    find: async ([longest, ...others], most) => {
      if (longest === undefined) return [];
      const rows = await db
        .selectFrom((from) =>
          from
            .selectFrom('find_word')
            .select(['kind', 'entity_id'])
            .where('workshop_id', '=', workshopId)
            .where('word', '>=', longest)
            .where('word', '<', longest + LAST_SIGN)
            .limit(MOST_LOOKED_AT)
            .as('one'),
        )
        .select(['one.kind', 'one.entity_id'])
        .distinct()
        .where(({ and, exists, selectFrom }) =>
          and(
            others.map((part) =>
              exists(
                selectFrom('find_word as other')
                  .select('other.word')
                  .where('other.workshop_id', '=', workshopId)
                  .whereRef('other.entity_id', '=', 'one.entity_id')
                  .where('other.word', '>=', part)
                  .where('other.word', '<', part + LAST_SIGN),
              ),
            ),
          ),
        )
        .limit(most)
        .execute();
      return rows.map(({ kind, entity_id }) => ({ kind: kind as FoundKind, id: entity_id }));
    },
    rebuild: async () => {
      await db.deleteFrom('find_word').where('workshop_id', '=', workshopId).execute();
      for (const kind of FOUND_KINDS)
        for (const [id, words] of await wordsOf(scope, kind)) await insert(scope, kind, id, words);
    },
    differences: async () => {
      const stored = new Map<string, Set<string>>();
      const rows = db
        .selectFrom('find_word')
        .select(['kind', 'entity_id', 'word'])
        .where('workshop_id', '=', workshopId)
        .stream(ROWS_AT_ONCE);
      for await (const { kind, entity_id, word } of rows) {
        const key = `${kind} ${entity_id}`;
        stored.set(key, (stored.get(key) ?? new Set()).add(word));
      }
      const others: string[] = [];
      for (const kind of FOUND_KINDS)
        for (const [id, words] of await wordsOf(scope, kind)) {
          const key = `${kind} ${id}`;
          const held = stored.get(key) ?? new Set();
          if (held.size !== words.size || [...words].some((word) => !held.has(word)))
            others.push(`${key} is found by other words than it has`);
          stored.delete(key);
        }
      return [...others, ...[...stored.keys()].map((key) => `${key} is found and is not there`)];
    },
  };
}

/** Brings up to date what one thing is found by. */
export async function reword(scope: Scope, kind: FoundKind, id: string): Promise<void> {
  await scope.db
    .deleteFrom('find_word')
    .where('workshop_id', '=', scope.workshopId)
    .where('entity_id', '=', id)
    .execute();
  const words = (await wordsOf(scope, kind, id)).get(id);
  if (words) await insert(scope, kind, id, words);
}

async function insert(
  { db, workshopId }: Scope,
  kind: FoundKind,
  id: string,
  words: ReadonlySet<string>,
): Promise<void> {
  for (const some of chunked([...words]))
    await db
      .insertInto('find_word')
      .values(some.map((word) => ({ workshop_id: workshopId, kind, entity_id: id, word })))
      .execute();
}

/** Returns what is found by which words: all of a kind, or the one. What is gone or void is found by none. */
async function wordsOf(scope: Scope, kind: FoundKind, id?: string): Promise<FoundBy> {
  if (kind === 'rider') return riderWords(scope, id);
  const names = await namesOf(scope, kind, id);
  const words: FoundBy = new Map();
  for (const { entity_id, body } of await standingFacts(scope, kind, id)) {
    const tags = names.get(entity_id) ?? [];
    const of = JSON.parse(body) as UnitFact & BikeFact;
    words.set(
      entity_id,
      kind === 'unit' ? findWords([of.model], [...tags, of.serial]) : findWords([of.name], tags),
    );
  }
  return words;
}

async function riderWords({ db, workshopId }: Scope, id?: string): Promise<FoundBy> {
  let query = db
    .selectFrom('contact')
    .select(['rider_id', 'name', 'email', 'phone'])
    .where('workshop_id', '=', workshopId);
  if (id !== undefined) query = query.where('rider_id', '=', id);
  const rows = await query.execute();
  return new Map(rows.map((of) => [of.rider_id, findWords([of.name], [of.email, of.phone])]));
}

/** Every name that it was ever given still finds it. */
async function namesOf(
  { db, workshopId }: Scope,
  kind: FoundKind,
  id?: string,
): Promise<ReadonlyMap<string, string[]>> {
  let query = db
    .selectFrom('handle')
    .select(['handle', 'entity_id'])
    .where('workshop_id', '=', workshopId)
    .where('kind', '=', kind);
  if (id !== undefined) query = query.where('entity_id', '=', id);
  const names = new Map<string, string[]>();
  for (const { handle, entity_id } of await query.execute())
    names.set(entity_id, [...(names.get(entity_id) ?? []), handle]);
  return names;
}

async function standingFacts(
  { db, workshopId }: Scope,
  kind: FoundKind,
  id?: string,
): Promise<Pick<Selectable<Tables['fact']>, 'entity_id' | 'body'>[]> {
  let query = db
    .selectFrom('fact')
    .leftJoin('fact as later', 'later.replaces_id', 'fact.id')
    .select(['fact.entity_id', 'fact.body'])
    .where('fact.workshop_id', '=', workshopId)
    .where('fact.kind', '=', kind)
    .where('fact.is_void', '=', 0)
    .where('later.id', 'is', null);
  if (id !== undefined) query = query.where('fact.entity_id', '=', id);
  return query.execute();
}
