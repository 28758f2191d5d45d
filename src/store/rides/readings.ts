import type { PlaceMarks } from '../../core/ground/samples/placeMarks.js';
import type { KeptReading, ReadingSaid } from '../../core/ground/samples/reading.js';
import type { ReadingRow, ReadingTable } from '../../ports/readings.js';
import { ask, putRows } from '../known/built.js';
import { chunked, newId, type Scope } from '../scope.js';

/** The sensors that may tell the bike, each once. */
export const bikeSensors = ({ sensors }: Pick<ReadingSaid, 'sensors'>): Set<string> =>
  new Set(sensors.filter((sensor) => sensor.boundTo !== 'rider').map((sensor) => sensor.id));

/** Returns a reading as two texts: what it says, and its profile. */
export function textsOf({ marks: _, profile, ...said }: KeptReading): { body: string; profile: string } {
  return { body: JSON.stringify(said), profile };
}

interface StoredReading {
  readonly id: string;
  readonly file_id: string;
  readonly part: number;
  readonly body: string;
}

/** Earlier programs kept the profile in the body. */
function saidIn(body: string): ReadingSaid {
  const { profile: _, ...said } = JSON.parse(body) as ReadingSaid & { profile?: unknown };
  // What a former reader did not know of.
  return said.recorder === undefined ? { ...said, recorder: null } : said;
}

const profileIn = (body: string): string =>
  JSON.stringify((JSON.parse(body) as { profile?: unknown }).profile ?? []);

const readingOf = (row: StoredReading & { readonly outcome: string | null }): ReadingRow => ({
  id: row.id,
  fileId: row.file_id,
  part: row.part,
  reading: saidIn(row.body),
  leftAs: row.outcome === 'lost' || row.outcome === 'kept' ? row.outcome : null,
});

export function readingTable(scope: Scope): ReadingTable {
  const { db, workshopId, known } = scope;
  const rowsOf = () =>
    db.selectFrom('reading').select(['id', 'file_id', 'part', 'body']).where('workshop_id', '=', workshopId);
  const againOf = (ids: readonly string[]) =>
    db
      .selectFrom('reading_again')
      .select(['reading_id as id', 'body', 'outcome'])
      .where('workshop_id', '=', workshopId)
      .where('reading_id', 'in', ids)
      .orderBy('nth');
  /** As their files were read last. */
  const latestOf = async (rows: readonly StoredReading[]): Promise<ReadingRow[]> => {
    const found = new Map(rows.map((row) => [row.id, { ...row, outcome: null as string | null }]));
    for (const some of chunked([...found.keys()]))
      for (const { id, body, outcome } of await ask(
        scope,
        `readings again of ${some.length}`,
        [workshopId, ...some],
        () => againOf(some),
      )) {
        const row = found.get(id)!;
        found.set(id, { ...row, outcome, body: body ?? row.body });
      }
    return [...found.values()].map(readingOf);
  };
  const putMarks = async (readingId: string, marks: PlaceMarks): Promise<void> => {
    const { key, recorder, fromMinute, cells } = marks;
    const said = { key_id: key, recorder, from_minute: fromMinute, cells };
    known.marks.set(readingId, marks);
    await putRows(
      scope,
      'reading_mark',
      [{ workshop_id: workshopId, reading_id: readingId, ...said }],
      'reading_id',
    );
  };
  return {
    putMarks,
    add: async (fileId, part, reading) => {
      const id = newId();
      const { marks } = reading;
      const texts = textsOf(reading);
      const row = { workshop_id: workshopId, id, file_id: fileId, part, ...texts };
      await putRows(scope, 'reading', [{ ...row, reader_version: reading.readerVersion }]);
      const sensors = [...bikeSensors(reading)];
      await putRows(
        scope,
        'reading_sensor',
        sensors.map((sensor_id) => ({ workshop_id: workshopId, reading_id: id, sensor_id })),
      );
      // Nobody can have said anything of it yet.
      scope.facts.known.ofRecordings.set(`answer subject_id ${id}`, []);
      known.marks.set(id, null);
      known.parts.set(id, null);
      if (marks !== undefined) await putMarks(id, marks);
      const added = readingOf({ id, file_id: fileId, part, body: texts.body, outcome: null });
      known.readings.set(id, added);
      return added;
    },
    listOfFile: async (fileId) =>
      latestOf(await rowsOf().where('file_id', '=', fileId).orderBy('part').execute()),
    getMany: async (ids) => {
      const found = await known.readings.many(ids, async (missing) => {
        const read = new Map<string, ReadingRow>();
        for (const some of chunked(missing)) {
          const rows = await ask(scope, `readings of ${some.length}`, [workshopId, ...some], () =>
            rowsOf().where('id', 'in', some),
          );
          for (const row of await latestOf(rows)) read.set(row.id, row);
        }
        return read;
      });
      return [...found.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
    },
    listProfiles: async (ids) => {
      const found = new Map<string, string>();
      for (const some of chunked(ids)) {
        const rows = await db
          .selectFrom('reading')
          .select(['id', 'body', 'profile'])
          .where('workshop_id', '=', workshopId)
          .where('id', 'in', some)
          .execute();
        const again = await db
          .selectFrom('reading_again')
          .select(['reading_id as id', 'body', 'profile'])
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .where('body', 'is not', null)
          .orderBy('nth')
          .execute();
        for (const { id, body, profile } of [...rows, ...again]) found.set(id, profile ?? profileIn(body!));
      }
      return found;
    },
    listMarks: async (ids) => {
      const held = await known.marks.many(ids, async (missing) => {
        const read = new Map<string, PlaceMarks | null>(missing.map((id) => [id, null]));
        for (const some of chunked(missing))
          for (const row of await ask(scope, `marks of ${some.length}`, [workshopId, ...some], () =>
            db
              .selectFrom('reading_mark')
              .selectAll()
              .where('workshop_id', '=', workshopId)
              .where('reading_id', 'in', some),
          ))
            read.set(row.reading_id, {
              key: row.key_id,
              recorder: row.recorder,
              fromMinute: row.from_minute,
              cells: row.cells,
            });
        return read;
      });
      const found = new Map<string, PlaceMarks>();
      for (const [id, marks] of held) if (marks !== null) found.set(id, marks);
      return found;
    },
    removePlaces: async (ids) => {
      known.marks.forget();
      for (const some of chunked(ids)) {
        await db
          .updateTable('reading_mark')
          .set({ from_minute: 0, cells: '' })
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .where('recorder', 'is not', null)
          .execute();
        await db
          .deleteFrom('reading_mark')
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .where('recorder', 'is', null)
          .execute();
      }
    },
    removeMarks: async (ids) => {
      known.marks.forget();
      for (const some of chunked(ids))
        await db
          .deleteFrom('reading_mark')
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .execute();
    },
    listTeaching: async () => {
      const rowsIn = (table: 'reading_sensor' | 'reading_mark' | 'reading_again') =>
        db.selectFrom(table).select('reading_id as id').where('workshop_id', '=', workshopId);
      const all = [
        await rowsIn('reading_sensor').execute(),
        await rowsIn('reading_mark').execute(),
        await rowsIn('reading_again').execute(),
        await rowsOf().clearSelect().select('id').where('body', 'like', '%"profileName":"%').execute(),
      ];
      return [...new Set(all.flat().map((row) => row.id))];
    },
    listIds: async () =>
      (await db.selectFrom('reading').select('id').where('workshop_id', '=', workshopId).execute()).map(
        (row) => row.id,
      ),
  };
}
