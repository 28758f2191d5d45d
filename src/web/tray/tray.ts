import type { Context } from 'hono';
import { answerTray } from '../../flow/rides/answerTray.js';
import type { TrayAnswer } from '../../flow/rides/joinWords.js';
import { answerMany, rideAfter } from '../../flow/rides/trayGroups.js';
import { listMeant } from '../../flow/rides/trayNames.js';
import { getTrayPage } from '../../flow/rides/trayPage.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { tickedClimbs } from '../cells/climbFields.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf, valuesOf } from '../guard.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { keyIn, keyText } from './trayKey.js';
import { trayMarkup } from './trayMarkup.js';

export function trayPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const answered = c.req.query('ride') ?? null;
    const from = keyIn(c.req.query('from'));
    const view = await deps.store.read((tx) => getTrayPage(tx, { from, answered }));
    const [answeredCount, left] = [c.req.query('answered'), c.req.query('left')].map(Number);
    const many = after.done === 'many' ? { answered: answeredCount ?? 0, left: left ?? 0 } : null;
    // Counted afresh: the form may just have answered one.
    const viewer = { ...c.get('viewer'), waiting: view.waiting };
    return trayMarkup(viewer, view, after, { at: c.req.query('at') ?? null, from, many });
  };

  pages.get('/tray', async (c) => c.html(await show(c, afterQuery(c))));

  pages.post('/tray', async (c) => {
    const viewer = c.get('viewer');
    // Which rides: the fault, if there is one, is about none of them alone.
    const { ride: _ride, ...fields } = await fieldsOf(c);
    const ticked = await valuesOf(c, 'ride');
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      const time = { from: dayIn(form, 'from'), to: dayIn(form, 'to') };
      const { answered, left } = await change(deps, c, async (tx, entry) => {
        const bikeId = await idOf(tx, 'bike', form, ['bike', 'other']);
        const done = await answerMany(tx, { ticked, time }, bikeId, entry);
        if (done === null) throw new NotTaken(viewer.texts.tray.noneChosen);
        return done;
      });
      return `/tray?done=many&answered=${answered}&left=${left}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });

  pages.post('/tray/:id', async (c) => {
    const viewer = c.get('viewer');
    const fields = { ...(await fieldsOf(c)), ride: c.req.param('id') };
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      const next = await deps.store.read((tx) => rideAfter(tx, fields.ride));
      const answer = await change(deps, c, async (tx, entry) => {
        const said = await answerOf(tx, form);
        return { said, ride: await answerTray(tx, fields.ride, said, entry) };
      });
      if (answer.said.apart !== undefined || answer.said.with !== undefined)
        return `/rides/${answer.ride.id}`;
      // The page goes on where it was: at the ride that stood after this one.
      const from = keyIn(c.req.query('from'));
      const part = from === null ? '' : `&from=${keyText(from)}`;
      const at = next === undefined ? '' : `&at=${next}#said`;
      return `/tray?done=${becameOf(answer.ride)}&ride=${answer.ride.id}${part}${at}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

/** Returns a day of a form; null where none was typed. */
const dayIn = (form: EntryForm, name: string): Day | null => {
  const typed = form.fields[name] ?? '';
  return typed === '' ? null : form.day(name);
};

function becameOf({ dismissed, question, indoor }: RideRow): string {
  if (dismissed) return 'kept';
  if (question !== null) return 'open';
  return indoor ? 'indoors' : 'counted';
}

/** The button says which of a ride's forms was sent. */
async function answerOf(tx: Tx, form: EntryForm): Promise<TrayAnswer> {
  const say = form.choice('say', [
    'yes',
    'no',
    'who',
    'rider',
    'bike',
    'on',
    'on-minutes',
    'minutes',
    'climbs',
    'apart',
    'with',
  ]);
  switch (say) {
    case 'yes':
    case 'no':
      return { ride: say === 'yes' };
    case 'climbs':
      return { ridden: tickedClimbs(form.fields) };
    case 'apart':
      return { apart: form.fields.about ?? '' };
    case 'with':
      return { with: form.fields.about ?? '' };
    case 'who':
      return whoOf(tx, form);
    case 'rider':
      return { riderId: await idOf(tx, 'rider', form) };
    case 'bike':
      return { bikeId: await idOf(tx, 'bike', form, ['other', 'bike']) };
    case 'on':
      return { on: form.moment('on', 'at') };
    case 'minutes':
      return { minutes: form.minutes('minutes') };
    case 'on-minutes':
      return { on: form.moment('on', 'at'), minutes: form.minutes('minutes') };
  }
}

/** Rider, bike, or both: one alone is often enough. */
async function whoOf(tx: Tx, form: EntryForm): Promise<TrayAnswer> {
  const { rider = '', bike = '' } = form.fields;
  return {
    ...(rider === '' && bike !== '' ? {} : { riderId: await idOf(tx, 'rider', form) }),
    ...(bike === '' ? {} : { bikeId: await idOf(tx, 'bike', form) }),
  };
}

/** The first of the fields that says something counts: an id, or parts of a name. */
async function idOf(
  tx: Tx,
  kind: 'rider' | 'bike',
  form: EntryForm,
  fields: readonly string[] = [kind],
): Promise<string> {
  const { tray } = form.viewer.texts;
  const typed = fields.map((name) => form.fields[name]?.trim() ?? '').find((text) => text !== '');
  if (typed === undefined) throw new NotTaken(tray.needChoice);
  const [only, ...others] = await listMeant(tx, kind, typed);
  if (only === undefined) throw new NotTaken(tray.noneFound(typed));
  if (others.length === 0) return only.id;
  const called = [only, ...others].map((one) => one.called);
  throw new NotTaken(tray.manyFound(typed, form.viewer.words.list(called)));
}
