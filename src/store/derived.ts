import type { DerivedMark } from '../ports/derived.js';
import type { Scope } from './scope.js';

export const derivedMark = ({ db, workshopId }: Scope): DerivedMark => ({
  get: async () =>
    (await db.selectFrom('workshop').select('derived').where('id', '=', workshopId).executeTakeFirstOrThrow())
      .derived,
  set: async (derived) => {
    await db.updateTable('workshop').set({ derived }).where('id', '=', workshopId).execute();
  },
});
