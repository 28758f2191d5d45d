import type { Context } from 'hono';
import type { InspectionFact } from '../../core/ledger/facts.js';
import { inspectionLooks } from '../../core/ledger/inspection.js';
import { INSPECTION_RESULTS, type InspectionCause, type InspectionResult } from '../../core/tokens.js';
import {
  getInspectionSheet,
  getInspectPage,
  type HoursFrom,
  inspectHistory,
  lookAfterCrash,
} from '../../flow/facts/inspections.js';
import { getIdOf } from '../../flow/names.js';
import { getUnit } from '../../flow/unitLedger.js';
import type { Tx } from '../../ports/store.js';
import { pathOfLine } from '../book/bookMarkup.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { readFields } from '../looks/looks.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { sheetMarkup } from './inspectionSheet.js';
import { inspectMarkup } from './inspectMarkup.js';

/** The after-crash list, which ends the crash mark; the inspection of a unit of unknown history; and each as a sheet. */
export function inspectPages(pages: Pages, deps: WebDeps): void {
  const show =
    (cause: InspectionCause) =>
    async (c: Context<WebEnv>, tag: string, after: After): Promise<Markup> => {
      const view = await deps.store.read((tx) => getInspectPage(tx, tag));
      return inspectMarkup(c.get('viewer'), view, cause, after);
    };

  pages.get('/units/:tag/crash', async (c) =>
    c.html(await show('crash')(c, c.req.param('tag'), afterQuery(c))),
  );
  pages.post('/units/:tag/crash', async (c) => {
    const fields = await fieldsOf(c);
    const tag = c.req.param('tag');
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      const isCleared = await change(deps, c, async (tx, entry) => {
        const inspection = await readInspection(tx, tag, form, 'crash');
        const { inspect } = form.viewer.texts;
        const why = inspect.crash.why(inspect.results[inspection.result!], inspection.by);
        return lookAfterCrash(tx, inspection, why, entry);
      });
      return `${pathOfUnit(tag)}?done=${isCleared ? 'cleared' : 'crash'}`;
    };
    return taken(c, fields, work, (after) => show('crash')(c, tag, after));
  });

  pages.get('/units/:tag/inspect', async (c) =>
    c.html(await show('history')(c, c.req.param('tag'), afterQuery(c))),
  );
  pages.post('/units/:tag/inspect', async (c) => {
    const fields = await fieldsOf(c);
    const tag = c.req.param('tag');
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      const from = readHours(form);
      await change(deps, c, async (tx, entry) => {
        const inspection = await readInspection(tx, tag, form, 'history');
        if (from !== null && (await getUnit(tx, inspection.unitId)).history !== 'unknown')
          throw new NotTaken(form.viewer.texts.inspect.notUnknown, 'from');
        await inspectHistory(tx, inspection, from, entry);
      });
      if (fields.from === 'service') return `${pathOfUnit(tag)}/service?from=unit`;
      return `${pathOfUnit(tag)}?done=${from === null ? 'history' : 'hours'}`;
    };
    return taken(c, fields, work, (after) => show('history')(c, tag, after));
  });

  pages.get('/units/:tag/looked/:fact', async (c) => {
    const { tag, fact } = c.req.param();
    const { unit, inspection } = await deps.store.read((tx) => getInspectionSheet(tx, tag, fact));
    if (inspection === null) return c.redirect(pathOfLine(tag, fact), 303);
    return c.html(sheetMarkup(c.get('viewer'), unit, inspection));
  });
}

/** Errors: NotTaken, naming the field. */
async function readInspection(
  tx: Tx,
  tag: string,
  form: EntryForm,
  cause: InspectionCause,
): Promise<InspectionFact> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const { inspect } = form.viewer.texts;
  const result =
    INSPECTION_RESULTS.find((one): one is InspectionResult => one === form.fields.result) ?? null;
  if (cause === 'crash' && result === null) throw new NotTaken(inspect.needResult, 'result');
  const by = form.line('by');
  if (by === null) throw new NotTaken(inspect.needBy, 'by');
  return {
    ...{ unitId, cause, by },
    on: form.day('on'),
    findings: readFields(form, inspectionLooks(await getUnit(tx, unitId), cause)),
    serial: form.line('serial'),
    result: cause === 'crash' ? result : null,
    note: form.line('note'),
  };
}

/** Returns the hours that count from here; null where none are said. Errors: NotTaken. */
function readHours({ fields, viewer }: EntryForm): HoursFrom | null {
  if (fields.from !== 'hours') return null;
  const [terrainHours, movingHours] = ['terrain', 'moving'].map((name) => {
    const typed = (fields[name] ?? '').trim().replace(',', '.');
    const hours = typed === '' ? Number.NaN : Number(typed);
    if (hours >= 0 && hours <= 100_000) return hours;
    throw new NotTaken(viewer.texts.inspect.needHours, name);
  });
  return { terrainHours: terrainHours!, movingHours: movingHours!, factId: fields.known };
}
