import { writeFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { stringify } from 'csv-stringify/sync';
import { ServiceError } from '../../errors.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { feedPath } from '../../flow/mail/links.js';
import { listSubjects } from '../../flow/mail/listSubjects.js';
import { bookLead, type Changed, declineLead, finishLead, settleLeads } from '../../flow/plan/leads.js';
import { listLeads, type ShownLead } from '../../flow/plan/listLeads.js';
import { getWorkshop } from '../../flow/settings.js';
import { wordsFor } from '../../languages/index.js';
import { linkSeal, type Stanchion } from '../../main.js';
import type { Tx } from '../../ports/store.js';
import { type Day, isoTime } from '../../units.js';
import { contextOf } from '../context.js';
import { BY_COMMAND, withStanchion } from '../opened.js';

interface ListOptions {
  readonly all?: boolean;
  readonly csv?: string;
  readonly calendar?: boolean;
  readonly newCalendar?: boolean;
}

interface ChangeOptions {
  readonly book?: Day;
  readonly evenIfFull?: boolean;
  readonly decline?: boolean;
  readonly done?: boolean;
}

export const leads = async (options: ListOptions, command: Command) => {
  await withStanchion(command, {}, (stanchion) =>
    options.calendar || options.newCalendar
      ? showCalendar(stanchion, options.newCalendar ?? false, command)
      : show(stanchion, options, command),
  );
};

export const changeLead = async (id: string, options: ChangeOptions, command: Command) => {
  await withStanchion(command, {}, (stanchion) => change(stanchion, id, options, command));
};

/** Leads follow from how things stand, so that is brought up to date first. */
async function settledLeads(stanchion: Stanchion, isAll: boolean): Promise<ShownLead[]> {
  const { store, clock, ids } = stanchion;
  await refreshAllDue(stanchion);
  const now = clock.now();
  return store.write(async (tx) => {
    const { timeZone } = await getWorkshop(tx);
    await settleLeads(tx, await listSubjects(tx, now, timeZone), now, ids);
    return listLeads(tx, now, isAll ? undefined : ['open', 'asked-for', 'booked']);
  });
}

async function show(stanchion: Stanchion, options: ListOptions, command: Command): Promise<void> {
  const { out } = contextOf(command);
  const leads = await settledLeads(stanchion, options.all ?? false);
  const rows = leads.map(({ changedAt, ...lead }) => ({ ...lead, changedAt: isoTime(changedAt) }));
  for (const row of rows) out.object(row);
  const words = wordsFor('en');
  if (rows.length === 0) out.line('Nothing is booked, and nothing is coming up.');
  else
    out.table(
      ['id', 'booking', 'day', 'unit', 'service', 'likely', 'minutes', 'bike', 'rider', 'phone'],
      leads.map((lead) => [
        lead.id,
        STATE_WORDS[lead.state],
        lead.day ?? '',
        lead.unit,
        words.jobs([lead.serviceKind, ...lead.beside]),
        lead.likely ?? '',
        String(lead.benchMinutes),
        lead.bike ?? '',
        lead.riderName ?? '',
        lead.phone ?? '',
      ]),
    );
  if (options.csv === undefined) return;
  // A cell that begins with a sign of a formula gets an apostrophe before it, so that no spreadsheet computes it.
  await writeFile(options.csv, stringify(rows, { header: true, columns: COLUMNS, escape_formulas: true }));
  out.line(`Written to ${options.csv}.`);
}

const STATE_WORDS: Readonly<Record<ShownLead['state'], string>> = {
  open: 'open',
  'asked-for': 'asked for',
  booked: 'booked',
  done: 'done',
  declined: 'declined',
  passed: 'passed',
};

const COLUMNS: readonly (keyof ShownLead)[] = [
  'id',
  'state',
  'day',
  'unit',
  'unitKind',
  'serviceKind',
  'beside',
  'wanted',
  'unitState',
  'likely',
  'benchMinutes',
  'bike',
  'rider',
  'riderName',
  'phone',
  'changedAt',
  'changedBy',
];

async function showCalendar(stanchion: Stanchion, isNew: boolean, command: Command): Promise<void> {
  const { out } = contextOf(command);
  const { store, config } = stanchion;
  const work = async (tx: Tx): Promise<string> => {
    if (isNew) await tx.leads.renewFeed();
    return feedPath(linkSeal(config), tx.workshopId, await tx.leads.feedEpoch());
  };
  const path = await (isNew ? store.write(work) : store.read(work));
  const url = `${config.publicUrl ?? `http://${config.host}:${config.port}`}${path}`;
  out.object({ calendar: url });
  out.line(url);
  out.line('Whoever has this address sees the bookings, without riders’ names.');
}

async function change(
  { store, clock, ids }: Stanchion,
  id: string,
  { book, decline, done, evenIfFull = false }: ChangeOptions,
  command: Command,
): Promise<void> {
  const { out } = contextOf(command);
  if ([book, decline, done].filter((one) => one !== undefined).length !== 1) {
    throw new ServiceError('wrong-use', 'Give one of --book DAY, --decline and --done.');
  }
  const entry = { by: BY_COMMAND, at: clock.now() };
  const changed = await store.write(async (tx): Promise<Changed> => {
    if (book !== undefined) return bookLead(tx, id, book, entry, ids, { evenIfFull });
    if (decline) return declineLead(tx, id, entry, ids);
    return finishLead(tx, id, entry, ids);
  });
  const { state } = changed.leads[0]!;
  const did = `${STATE_WORDS[state]}${state === 'booked' ? ` on ${book}` : ''}`;
  out.object({ did, ids: [id], problems: [] });
  out.line(`Done: ${did}.`);
  if (!changed.isMailed) out.line('No mail goes to this rider: call them.');
}
