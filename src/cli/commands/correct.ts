import { readFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { voidFact } from '../../flow/facts/changeFact.js';
import { changedRow, correctFact, getFactRow } from '../../flow/facts/correctFact.js';
import { rename } from '../../flow/facts/rename.js';
import { listUnitStory, type StoryLine } from '../../flow/facts/unitStory.js';
import { getWorkshop } from '../../flow/settings.js';
import type { HandleKind } from '../../ports/handles.js';
import { isoTime } from '../../units.js';
import { contextOf } from '../context.js';
import { readRow } from '../importSchema.js';
import { getByHandle, withStanchion } from '../opened.js';
import type { Output } from '../output.js';
import { storyText } from '../storyText.js';
import { enter } from './ledger.js';

export const correct = async (factId: string, options: { with: string; why: string }, command: Command) => {
  const changes = await readChanges(options.with);
  await enter(command, `fact ${factId} corrected`, async (tx, entry) => {
    const fact = await getFactRow(tx, factId);
    const read = readRow(fact.kind, changedRow(fact, changes));
    if ('wrong' in read) throw wrongValues(options.with, read.wrong);
    const why = whyOf(options);
    return [await correctFact(tx, factId, { kind: fact.kind, row: read.row }, { ...entry, why })];
  });
};

export const makeVoid = async (factId: string, options: { why: string }, command: Command) => {
  await enter(command, `fact ${factId} taken back`, async (tx, entry) => [
    (await voidFact(tx, factId, whyOf(options), entry)).id,
  ]);
};

export const renameOne = async (
  kind: HandleKind,
  from: string,
  to: string,
  options: { why: string },
  command: Command,
) => {
  await enter(command, `${kind} ${from} is called ${to}`, async (tx, entry) => {
    const id = await getByHandle(tx, kind, from);
    const fact = await tx.facts.current(kind, id);
    if (!fact) throw new ServiceError('refused', `The ${kind} "${from}" was taken back.`);
    return [await rename(tx, fact.id, to, { ...entry, why: whyOf(options) })];
  });
};

export const story = async (tag: string, _options: unknown, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async ({ store }) => {
    await store.read(async (tx) => {
      const lines = await listUnitStory(tx, await getByHandle(tx, 'unit', tag));
      showStory(out, lines, (await getWorkshop(tx)).timeZone);
    });
  });
};

async function readChanges(file: string): Promise<Record<string, unknown>> {
  const text = await readFile(file, 'utf8');
  try {
    const content: unknown = JSON.parse(text);
    if (content !== null && typeof content === 'object' && !Array.isArray(content))
      return content as Record<string, unknown>;
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
  }
  throw new ServiceError('refused', `${file} must hold one JSON object.`, {
    hint: 'Such as {"on": "2025-03-02"}. story --json shows the names.',
  });
}

const wrongValues = (
  file: string,
  wrong: readonly { readonly path: readonly PropertyKey[]; readonly message: string }[],
): ServiceError =>
  new ServiceError(
    'refused',
    wrong.map(({ path, message }) => `${file}: ${[...path.map(String), message].join(' ')}`).join('\n'),
  );

function whyOf({ why }: { readonly why: string }): string {
  if (why.trim() !== '') return why.trim();
  throw new ServiceError('wrong-use', 'Say why in a few words: whoever reads it later wants to know.');
}

function showStory(out: Output, lines: readonly StoryLine[], zone: string): void {
  for (const { at, ...line } of lines) out.object({ ...line, at: isoTime(at) });
  const days = (line: StoryLine): string => isoTime(line.at).slice(0, 16).replace('T', ' ');
  const rows = lines.flatMap((line) => {
    const text = storyText(line, zone);
    if (line.isInForce) return [[line.on, text, line.by, days(line), line.fact]];
    if (line.isVoid) return [['', `  void: ${line.why ?? ''}`, line.by, days(line), line.fact]];
    const later = lines.find((other) => other.fact === line.replacedBy);
    const because = later?.why && !later.isVoid ? `, until ${later.by} corrected it: ${later.why}` : '';
    return [[line.on, `  was: ${text}${because}`, line.by, days(line), line.fact]];
  });
  out.table(['day', 'what', 'entered by', 'at (UTC)', 'fact'], rows);
}
