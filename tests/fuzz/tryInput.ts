import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Chance, seeded } from '../../samples/seeded.js';
import { DOCUMENT_KINDS, readDocument } from '../../src/cli/importSchema.js';
import { readCsvImport } from '../../src/cli/readImport.js';
import { readRecording } from '../../src/core/ground/readRecording.js';
import type { Reading } from '../../src/core/ground/samples/reading.js';
import { DEFAULT_WEIGHTS, priorOf, terrainOf } from '../../src/core/ledger/weight.js';
import { ServiceError } from '../../src/errors.js';
import { isWhole } from '../../src/files/isWhole.js';
import { readContent } from '../../src/files/readFile.js';
import { ImportRefused, importLedger } from '../../src/flow/carry/importLedger.js';
import type { Store } from '../../src/ports/store.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { openMade } from '../fixtures/openMade.js';
import { csvInput, documentInput, SOUND_DOCUMENT } from './documentInput.js';
import { fitInput } from './fitInput.js';
import { type FormWorld, openFormWorld } from './formInput.js';
import { gpxInput } from './gpxInput.js';
import { tcxInput } from './tcxInput.js';
import { zipInput } from './zipInput.js';

export const KINDS = ['fit', 'gpx', 'tcx', 'zip', 'document', 'csv', 'form', 'link'] as const;
export type Kind = (typeof KINDS)[number];

/** Of a hundred inputs. */
const SHARES: Readonly<Record<Kind, number>> = {
  fit: 49,
  gpx: 28,
  tcx: 10,
  zip: 5,
  document: 2,
  csv: 1,
  form: 1.5,
  link: 3.5,
};
const NOW = instant(Date.parse('2025-06-10T09:00:00Z'));
const MOST_PROFILE = 600;
/** Forms change the workshop that they are sent to, so that it is made anew from time to time. */
const FORMS_A_WORLD = 1000;

export interface Tried {
  readonly kind: Kind;
  /** Whether it came through to something that counts: a ride, a ledger, an answer. */
  readonly came: boolean;
}

const chanceOf = (seed: string, index: number): Chance => seeded(`${seed}/${index}`);

export function kindOf(seed: string, index: number): Kind {
  let left = chanceOf(`${seed} kind`, index).next() * 100;
  for (const kind of KINDS) {
    left -= SHARES[kind];
    if (left < 0) return kind;
  }
  return 'fit';
}

/** Returns the bytes of an input that is a file. */
export function bytesOf(seed: string, index: number): Uint8Array | null {
  const chance = chanceOf(seed, index);
  const kind = kindOf(seed, index);
  if (kind === 'fit') return fitInput(chance);
  if (kind === 'gpx') return gpxInput(chance);
  if (kind === 'tcx') return tcxInput(chance);
  return kind === 'zip' ? zipInput(chance) : null;
}

/** Tries inputs, one after the other; whatever it throws is a fault of the program. */
export class Trial {
  #store: Promise<Store> | null = null;
  #forms: Promise<FormWorld> | null = null;
  #formsSent = 0;
  readonly #folder = mkdtempSync(join(tmpdir(), 'stanchion-fuzz-'));

  async try(seed: string, index: number): Promise<Tried> {
    const kind = kindOf(seed, index);
    const bytes = bytesOf(seed, index);
    const chance = chanceOf(seed, index);
    if (bytes !== null) return { kind, came: await tryFile(bytes) };
    if (kind === 'document') return { kind, came: await this.document(documentInput(chance)) };
    if (kind === 'csv') return { kind, came: await this.#csv(chance) };
    return { kind, came: kind === 'link' ? await this.#link(chance) : await this.#form(chance) };
  }

  async close(): Promise<void> {
    await (await this.#store)?.close();
    await (await this.#forms)?.close();
    rmSync(this.#folder, { recursive: true });
  }

  /** Takes the text of an import file; false where it was refused in words. */
  async document(text: string): Promise<boolean> {
    let content: unknown;
    try {
      content = JSON.parse(text);
    } catch (error) {
      if (error instanceof SyntaxError) return false;
      throw error;
    }
    const read = readDocument(content);
    if ('wrong' in read) return wellSaid(read.wrong.map((one) => one.message));
    this.#store ??= openStore(join(this.#folder, 'stanchion.db'), NOW);
    return undone(await this.#store, async (tx) => {
      await importLedger(tx, read.document, { by: 'import', at: NOW });
    });
  }

  async #csv(chance: Chance): Promise<boolean> {
    const { kind, text } = csvInput(chance, DOCUMENT_KINDS);
    const file = join(this.#folder, 'rows.csv');
    writeFileSync(file, text);
    const read = await readCsvImport(kind, file);
    if ('problems' in read) return wellSaid(read.problems.map((one) => one.message));
    this.#store ??= openStore(join(this.#folder, 'stanchion.db'), NOW);
    const sound = readDocument(SOUND_DOCUMENT);
    if ('wrong' in sound) throw new Error('The sound document is not sound.');
    return undone(await this.#store, async (tx) => {
      await importLedger(tx, sound.document, { by: 'import', at: NOW });
      await importLedger(tx, read.document, { by: 'import', at: NOW });
    });
  }

  async #form(chance: Chance): Promise<boolean> {
    const wrong = await (await this.#world()).send(chance);
    if (wrong !== null) throw new Error(wrong);
    return true;
  }

  /** A link that nobody made opens nothing. */
  async #link(chance: Chance): Promise<boolean> {
    const answer = await (await this.#world()).follow(chance);
    if (answer.wrong !== null) throw new Error(answer.wrong);
    return answer.opened;
  }

  async #world(): Promise<FormWorld> {
    if (this.#formsSent++ % FORMS_A_WORLD === 0) {
      await (await this.#forms)?.close();
      this.#forms = openFormWorld();
    }
    return this.#forms!;
  }
}

class Undone extends Error {}

/** Does work in a transaction that is undone; false where it was refused in words. */
async function undone(store: Store, work: Parameters<Store['write']>[0]): Promise<boolean> {
  try {
    await store.write(async (tx) => {
      await work(tx);
      throw new Undone();
    });
  } catch (error) {
    if (error instanceof Undone) return true;
    if (error instanceof ImportRefused) return wellSaid(error.problems.map((one) => one.message));
    if (!(error instanceof ServiceError) || error.code === 'store-failed') throw error;
    return wellSaid([error.message]);
  }
  throw new Error('Work that was to be undone was kept.');
}

/** Every refusal says something. */
function wellSaid(messages: readonly string[]): false {
  if (messages.length === 0 || messages.some((one) => one.trim() === '' || /undefined|\[object/.test(one)))
    throw new Error(`A refusal without words: ${JSON.stringify(messages)}`);
  return false;
}

/** Opens, decodes and reads a file as the program does; true where there is a ride in it. */
export async function tryFile(bytes: Uint8Array): Promise<boolean> {
  isWhole(bytes);
  let rides = 0;
  for await (const member of openMade(bytes, 'input')) {
    if ('problem' in member) {
      wellSaid([member.problem.message]);
      continue;
    }
    const content = readContent(member.bytes, member.name);
    if ('problem' in content) {
      wellSaid([content.problem.message]);
      continue;
    }
    for (const recording of content.recordings) {
      const outcome = readRecording(recording, { now: NOW });
      if ('problem' in outcome) wellSaid([outcome.problem.message]);
      else for (const reading of outcome.readings) checkReading(reading);
      rides += 'problem' in outcome ? 0 : 1;
    }
  }
  return rides > 0;
}

/** What must hold of any reading, whatever the file. */
function checkReading(reading: Reading): void {
  const { movingS, elapsedS, distanceM, profile, moving, terrain, start, end } = reading;
  const faults: string[] = [];
  // What is stored as JSON must come back the same: no NaN, nothing infinite, nothing undefined.
  if (!isStorable(reading)) faults.push('it cannot be stored');
  if (!(movingS >= 0 && movingS <= elapsedS + 1)) faults.push(`moving ${movingS} s of ${elapsedS} s`);
  if (!(distanceM >= 0)) faults.push(`distance ${distanceM} m`);
  if (profile.length > MOST_PROFILE) faults.push(`profile of ${profile.length} points`);
  if (start !== null && end !== null && end < start) faults.push('it ends before it starts');
  if (moving.some(([from, to], i) => !(from < to) || (i > 0 && from < moving[i - 1]![1])))
    faults.push('moving intervals out of order');
  const weighed = terrainOf(terrain, movingS, {
    prior: priorOf(reading.subSport, null),
    weights: DEFAULT_WEIGHTS,
  });
  if (!(weighed.weight >= 0.5 && weighed.weight <= 3)) faults.push(`weight ${weighed.weight}`);
  if (faults.length > 0) throw new Error(`A reading that cannot be: ${faults.join('; ')}`);
}

function isStorable(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null) return value !== undefined;
  return Object.values(value).every(isStorable);
}
