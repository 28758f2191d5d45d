import { readFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { z } from 'zod';
import { dayOf } from '../../core/days/calendar.js';
import { parseDay } from '../../core/days/dayNumber.js';
import { MEASURES } from '../../core/ledger/facts.js';
import { inspectionLooks } from '../../core/ledger/inspection.js';
import { afterLastRideOf, momentOf } from '../../core/ledger/moment.js';
import { type DoneBy, GOINGS } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import type { Entry } from '../../flow/entry.js';
import { addService, findSameService, markUnit } from '../../flow/facts/enterFacts.js';
import { lookAfterCrash } from '../../flow/facts/inspections.js';
import { endFitting, fitUnit, swapUnits } from '../../flow/fittings/fittings.js';
import { type MovedRide, withMovedRides } from '../../flow/fittings/movedRides.js';
import { setFleet, setGone } from '../../flow/fittings/whereabouts.js';
import { moveUnit } from '../../flow/plan/collectUnit.js';
import { refuse } from '../../flow/refuse.js';
import { getWorkshop } from '../../flow/settings.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Problem } from '../../problems.js';
import { type Day, isoTime, type Moment, moment } from '../../units.js';
import { contextOf } from '../context.js';
import { BY_COMMAND, getByHandle, withStanchion } from '../opened.js';
import { movedLines, movedRow } from './movedText.js';

/** The facts that were made; with what was done where that is seen only then, and the rides that changed unit. */
type Entered =
  | readonly string[]
  | {
      readonly ids: readonly string[];
      readonly did?: string;
      readonly rides?: readonly MovedRide[];
      readonly problems?: readonly Problem[];
    };

/** Enters something in one transaction, refreshes what follows from it, and says which facts it made. */
export async function enter(
  command: Command,
  toDo: string,
  work: (tx: Tx, entry: Entry, ids: Ids) => Promise<Entered>,
): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const entry = { by: BY_COMMAND, at: stanchion.clock.now() };
    const made = await stanchion.store.write((tx) => work(tx, entry, stanchion.ids));
    const { ids, did = toDo, rides, problems = [] } = 'ids' in made ? made : { ids: made };
    await refreshAllDue(stanchion);
    out.object({ did, ids, problems, ...(rides && { rides: rides.map(movedRow) }) });
    out.line(`Done: ${did}.`);
    for (const { message } of problems) out.line(message);
    for (const line of movedLines(rides ?? [])) out.line(line);
  });
}

const FINDINGS = z.record(z.string().max(100), z.string().max(200));
const PARTS = z.array(
  z.strictObject({
    part: z.string().min(1).max(200),
    count: z.number().positive().max(100_000).default(1),
    measure: z.enum(MEASURES).default('pieces'),
  }),
);

async function readJson<T>(shape: z.ZodType<T>, file: string | undefined, what: string): Promise<T | null> {
  if (file === undefined) return null;
  const text = await readFile(file, 'utf8');
  try {
    const read = shape.safeParse(JSON.parse(text));
    if (read.success) return read.data;
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
  }
  throw new ServiceError('wrong-use', `${file} must hold ${what}.`);
}

interface ServiceOptions {
  on: Day;
  restarts?: string[];
  by?: DoneBy;
  elsewhere?: boolean;
  findings?: string;
  parts?: string;
  technician?: string;
  price?: string;
  note?: string;
  again?: boolean;
}

export const service = async (
  tag: string,
  serviceKind: string,
  options: ServiceOptions,
  command: Command,
) => {
  const findings = await readJson(FINDINGS, options.findings, 'one JSON object of names and words');
  const parts = await readJson(PARTS, options.parts, 'a JSON list of part, count and measure');
  await enter(command, `${serviceKind} service of ${tag} on ${options.on}`, async (tx, entry) => {
    const service = {
      unitId: await getByHandle(tx, 'unit', tag),
      serviceKind,
      on: options.on,
      by: options.by ?? (options.elsewhere ? 'another-workshop' : 'here'),
      findings,
      note: options.note ?? null,
      ...(options.restarts === undefined ? {} : { restarts: options.restarts }),
      ...(parts === null ? {} : { parts }),
      ...(options.technician === undefined ? {} : { technician: options.technician }),
      ...(options.price === undefined ? {} : { price: options.price }),
    };
    const same = options.again ? undefined : await findSameService(tx, service);
    if (same)
      refuse('service-there', { tag, serviceKind, on: options.on, fact: same.id, who: same.recordedBy });
    return [await addService(tx, service, entry)];
  });
};

export const fit = async (tag: string, bike: string, options: FitOptions, command: Command) => {
  await enter(command, `${tag} on ${bike} from ${options.from}`, async (tx, entry) => {
    const unitId = await getByHandle(tx, 'unit', tag);
    const bikeId = await getByHandle(tx, 'bike', bike);
    const from = await momentOn(tx, options.from, options);
    const isSure = options.althoughMarked ?? false;
    const { made, rides } = await withMovedRides(tx, { unitIds: [unitId], bikeIds: [bikeId] }, () =>
      fitUnit(tx, { unitId, bikeId, from, to: null }, isSure, entry),
    );
    return { ids: [made], rides };
  });
};

export const unfit = async (tag: string, options: FitOptions & { at: string }, command: Command) => {
  await enter(command, `${tag} off its bike at ${options.at}`, async (tx, entry) => {
    const unitId = await getByHandle(tx, 'unit', tag);
    const isDayAlone = parseDay(options.at) !== null && !options.beforeFirst;
    const at = await momentOn(tx, options.at, { ...options, afterLast: options.afterLast || isDayAlone });
    const { made, rides } = await withMovedRides(tx, { unitIds: [unitId] }, () =>
      endFitting(tx, unitId, at, entry),
    );
    return { ids: [made], rides };
  });
};

export const swap = async (
  tag: string,
  other: string,
  options: FitOptions & { at: string },
  command: Command,
) => {
  const both = `${tag} and ${other}`;
  const swapped = `${both} swapped at ${options.at}`;
  await enter(command, swapped, async (tx, entry) => {
    const unitIds = [await getByHandle(tx, 'unit', tag), await getByHandle(tx, 'unit', other)] as const;
    const at = await momentOn(tx, options.at, options);
    const isSure = options.althoughMarked ?? false;
    const { made, rides } = await withMovedRides(tx, { unitIds }, () =>
      swapUnits(tx, unitIds, at, entry, { isSure }),
    );
    const { ids, isBack } = made;
    return { ids, rides, did: isBack ? `the swap of ${both} at ${options.at} taken back` : swapped };
  });
};

export const gone = async (tag: string, what: string, options: { on: Day }, command: Command) => {
  const how = oneOf(what, GOINGS);
  await enter(command, `${tag} ${how} on ${options.on}`, async (tx, entry) => {
    const unitId = await getByHandle(tx, 'unit', tag);
    const { made, rides } = await withMovedRides(tx, { unitIds: [unitId] }, () =>
      setGone(tx, { unitId, how, on: options.on }, entry),
    );
    return { ids: made, rides };
  });
};

export const member = async (tag: string, fleet: string, options: { from?: Day }, command: Command) => {
  await enter(command, `${tag} of ${fleet === 'none' ? 'no fleet' : `fleet ${fleet}`}`, async (tx, entry) => {
    const unitId = await getByHandle(tx, 'unit', tag);
    const fleetId = fleet === 'none' ? null : await getByHandle(tx, 'fleet', fleet);
    return [await setFleet(tx, { unitId, fleetId, from: options.from ?? null }, entry)];
  });
};

interface MarkOptions {
  readonly why: string;
  readonly looked?: string;
  readonly by?: string;
}

/** A mark is cleared with the after-crash list, which says what was looked at; without it the answer asks for that. */
export const mark = async (tag: string, what: string, options: MarkOptions, command: Command) => {
  const stop = oneOf(what, ['stop', 'clear']) === 'stop';
  const looked = await readJson(FINDINGS, options.looked, 'one JSON object of parts and words');
  if (stop && looked !== null) throw new ServiceError('wrong-use', '--looked goes with clear alone.');
  await enter(command, `${tag}: ${stop ? 'stop riding' : 'mark cleared'}`, async (tx, entry) => {
    const unitId = await getByHandle(tx, 'unit', tag);
    if (looked === null) {
      const ids = [await markUnit(tx, unitId, stop, options.why, entry)];
      return { ids, problems: stop ? [] : [await withoutList(tx, unitId, tag)] };
    }
    const { timeZone } = await getWorkshop(tx);
    const said = { cause: 'crash', result: 'ride', serial: null, note: options.why } as const;
    const on = dayOf(entry.at, timeZone);
    const inspection = { unitId, ...said, on, by: options.by ?? entry.by, findings: looked };
    await lookAfterCrash(tx, inspection, options.why, entry);
    return [];
  });
};

/** Looking is what clears a mark: who says nothing of it is told how to. */
async function withoutList(tx: Tx, unitId: string, tag: string): Promise<Problem> {
  const { body } = (await tx.facts.current('unit', unitId))!;
  const names = inspectionLooks(body, 'crash').map(({ name }) => name);
  const message = `${tag} needs its after-crash list before the mark is cleared. Give --looked FILE.json with a word for each of ${names.join(', ')}, or fill in the list on its page.`;
  return { code: 'no-list', message, source: tag };
}

export const bench = async (tag: string, what: string, _options: unknown, command: Command) => {
  const isIn = oneOf(what, ['in', 'out']) === 'in';
  await enter(command, `${tag} ${isIn ? 'on the bench' : 'off the bench'}`, async (tx, entry, ids) => [
    await moveUnit(tx, await getByHandle(tx, 'unit', tag), isIn, entry, ids),
  ]);
};

interface FitOptions {
  from: string;
  beforeFirst?: boolean;
  afterLast?: boolean;
  althoughMarked?: boolean;
}

async function momentOn(
  tx: Tx,
  text: string,
  { beforeFirst, afterLast }: Omit<FitOptions, 'from'>,
): Promise<Moment> {
  if (!beforeFirst && !afterLast)
    return parseDay(text) === null
      ? isoTime(momentOf(text, (await getWorkshop(tx)).timeZone)!)
      : moment(text);
  const day = parseDay(text);
  if (day === null || (beforeFirst && afterLast)) {
    throw new ServiceError('wrong-use', 'Give a day with either --before-first or --after-last.');
  }
  return afterLast ? afterLastRideOf(day, (await getWorkshop(tx)).timeZone) : day;
}

function oneOf<T extends string>(text: string, words: readonly T[]): T {
  const found = words.find((word) => word === text);
  if (found) return found;
  throw new ServiceError('wrong-use', `"${text}" must be one of: ${words.join(', ')}.`);
}
