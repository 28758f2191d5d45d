import type { Context } from 'hono';
import { parseDay } from '../../core/days/dayNumber.js';
import { JOB_STEPS, type JobStep } from '../../core/tokens.js';
import type { Entry } from '../../flow/entry.js';
import { answerJob, askJob } from '../../flow/facts/jobQuestions.js';
import { arrive, changeJob, type JobSaid } from '../../flow/facts/jobs.js';
import { queueFound } from '../../flow/mail/kinds/found.js';
import { queueJobQuestion } from '../../flow/mail/kinds/jobQuestion.js';
import { queueReady } from '../../flow/mail/kinds/ready.js';
import { findIdOf, getIdOf } from '../../flow/names.js';
import { collectUnit } from '../../flow/plan/collectUnit.js';
import { findJob } from '../../flow/plan/jobs.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import { change } from '../change.js';
import { comebackIn } from '../comebacks/comebackMarkup.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, type Fields, taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { pathBack } from './pathBack.js';

/** Shows again the page that a form was sent from. */
export type ShowAgain = (c: Context<WebEnv>, tag: string, after: After) => Promise<Markup>;

type Act = (tx: Tx, unitId: string, form: EntryForm, entry: Entry, ids: Ids) => Promise<string>;

/** The forms that take a job from step to step; each leads back to where it was sent from. */
export function jobForms(pages: Pages, deps: WebDeps, show: { bench: ShowAgain; unit: ShowAgain }): void {
  for (const [name, act] of Object.entries(ACTS) as [keyof typeof ACTS, Act][]) {
    pages.post(`/units/:tag/${name}`, async (c) => {
      const tag = c.req.param('tag');
      const fields: Fields = { ...(await fieldsOf(c)), unit: tag };
      const work = async (): Promise<string> => {
        const form = new EntryForm(fields, c.get('viewer'));
        const done = await change(deps, c, async (tx, entry) =>
          act(tx, await getIdOf(tx, 'unit', tag), form, entry, deps.ids),
        );
        return pathBack(form.fields.from, tag, done);
      };
      const again = c.get('viewer').fleet === null && isBench(fields) ? show.bench : show.unit;
      return taken(c, fields, work, (after) => again(c, tag, after));
    });
  }
  pages.post('/bench/arrive', async (c) => {
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      await change(deps, c, async (tx, entry) => {
        const unitId = await findIdOf(tx, 'unit', form.line('tag') ?? '');
        if (unitId === undefined) throw new NotTaken(form.viewer.texts.bench.needTag);
        return arrive(tx, unitId, saidIn(form), entry);
      });
      return '/bench?done=arrived';
    };
    return taken(c, fields, work, (after) => show.bench(c, '', after));
  });
}

const isBench = ({ from }: Fields): boolean => from === 'bench';

/** Asks the rider, by mail where one reaches them; else somebody calls. */
const question: Act = async (tx, unitId, form, entry, ids) => {
  const { question: says } = form.viewer.texts.bench;
  const why = form.line('why');
  const to = form.fields.to ?? '';
  if (why === null) throw new NotTaken(says.needWhy, 'why');
  if (to === '') throw new NotTaken(says.needJob, 'to');
  const day = (form.fields.readyBy ?? '') === '' ? null : parseDay(form.fields.readyBy!);
  const asked = { from: form.line('wanted'), to, why, price: form.line('price'), day };
  await askJob(tx, unitId, asked, entry);
  return (await queueJobQuestion(tx, unitId, entry.at, ids)) ? 'asked' : 'askByPhone';
};

/** What the rider said to somebody who called. */
const answer: Act = async (tx, unitId, form: EntryForm, entry) => {
  const said = form.choice('answer', ['yes', 'not-now']);
  await answerJob(tx, unitId, form.fields.question ?? '', { answer: said, by: 'phone' }, entry);
  return said === 'yes' ? 'saidYes' : 'notNow';
};

const ACTS = {
  question,
  answer,
  arrive: async (tx, unitId, form, entry) => {
    await arrive(tx, unitId, saidIn(form), entry);
    return 'arrived';
  },
  job: async (tx, unitId, form, entry) => {
    const before = (await findJob(tx, entry.at, unitId))?.before ?? [];
    await changeJob(tx, unitId, seenIn(form), { ...saidIn(form), ...comebackIn(form, before) }, entry);
    return 'said';
  },
  step: async (tx, unitId, form, entry, ids) => {
    const step: JobStep = form.choice('to', JOB_STEPS);
    if (step === 'collected')
      await collectUnit(
        tx,
        unitId,
        { seen: seenIn(form), isFittedBack: form.isTicked('fitBack') },
        entry,
        ids,
      );
    else if (step === 'informed') return inform(tx, unitId, form, entry, ids);
    else await changeJob(tx, unitId, seenIn(form), { step }, entry);
    return step;
  },
} as const satisfies Record<string, Act>;

/** The rider is told by mail where that was chosen and one can go; else somebody called. */
async function inform(tx: Tx, unitId: string, form: EntryForm, entry: Entry, ids: Ids): Promise<string> {
  const isByMail = form.isTicked('byMail');
  const informedBy = isByMail ? 'mail' : 'call';
  await changeJob(tx, unitId, seenIn(form), { step: 'informed', informedBy }, entry);
  if (!isByMail) return 'informed';
  const isTold =
    (await queueFound(tx, unitId, entry.at, ids)) || (await queueReady(tx, unitId, entry.at, ids));
  if (!isTold) throw new NotTaken(form.viewer.texts.bench.noMail);
  return 'mailed';
}

/** The fact that the person saw; none stands there where a program from before jobs wrote it. */
const seenIn = ({ fields }: EntryForm): string | null => fields.fact || null;

function saidIn(form: EntryForm): JobSaid {
  const promised = form.fields.promisedFor ?? '';
  return {
    wish: form.line('wish'),
    promisedFor: promised === '' ? null : parseDay(promised),
    price: form.line('price'),
    missing: form.line('missing'),
  };
}
