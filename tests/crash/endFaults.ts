import { rmSync } from 'node:fs';
import { runProgram } from '../fixtures/program.js';
import type { Relay, TakenMail } from '../fixtures/relay.js';
import { type CrashWorld, NOW, namesIn } from './crashWorld.js';

/** What the relay took in one life of the program. */
export interface Taken {
  readonly taken: readonly TakenMail[];
  readonly isKilled: boolean;
}

/** What bears on safety goes by a lane of its own. */
const isSafety = ({ raw }: TakenMail): boolean => /^Subject: (?:Do not ride|Stop riding)/m.test(raw);

/**
 * A mail may come again, as it was, only where its first taking was the last thing that its lane did in a life that was cut
 * off.
 */
export function repeatFaults(lives: readonly Taken[]): string[] {
  const faults: string[] = [];
  const first = new Map<string, TakenMail>();
  const mayRepeat = new Set<string>();
  for (const { taken, isKilled } of lives) {
    for (const mail of taken) {
      const known = first.get(mail.messageId);
      if (!known) first.set(mail.messageId, mail);
      else if (!mayRepeat.delete(mail.messageId)) faults.push(`${mail.to} got ${mail.messageId} again`);
      else if (known.raw !== mail.raw) faults.push(`${mail.to} got ${mail.messageId} in other words`);
    }
    for (const last of [taken.findLast(isSafety), taken.findLast((mail) => !isSafety(mail))])
      if (isKilled && last) mayRepeat.add(last.messageId);
  }
  return faults;
}

/** Once all is done: every file, notice and mail is there once, and nothing that was half done lies about. */
export function worldFaults(world: CrashWorld, relay: Relay): string[] {
  return [
    ...fileFaults(world),
    ...noticeFaults(world),
    ...mailFaults(world, relay),
    ...backupFaults(world),
    ...checkFaults(world.folder),
  ];
}

function fileFaults(world: CrashWorld): string[] {
  const laid = [...world.laid].sort();
  const same = (what: string, found: readonly string[]): string[] =>
    JSON.stringify([...found].sort()) === JSON.stringify(laid)
      ? []
      : [`${found.length} ${what} of ${laid.length} files`];
  const hashes = world.rows<{ sha256: string }>('select f.sha256 from file f').map((row) => row.sha256);
  const read = world.rows<{ sha256: string }>(
    'select f.sha256 from file f join reading r on r.file_id = f.id join ride_reading l on l.reading_id = r.id',
  );
  const rides = world.rows("select 1 from ride where counts = 1 and source = 'recorded'").length;
  const kept = world.keptFiles.map((path) => path.split('/').at(-1)!);
  return [
    ...same('taken', hashes),
    ...same(
      'read',
      read.map((row) => row.sha256),
    ),
    ...same('kept', kept),
    ...(rides === laid.length ? [] : [`${rides} rides of ${laid.length} files`]),
  ];
}

function noticeFaults(world: CrashWorld): string[] {
  const stored = world.rows<{ to: string; tag: string; state: string }>(
    `select case when n.recipient = 'workshop' then 'workshop' else 'rider' end as "to", h.handle as tag, n.state
     from notice n join handle h on h.kind = 'unit' and h.entity_id = n.unit_id where n.withdrawn_at_ms is null`,
  );
  const found = stored.map(({ to, tag, state }) => `${tag} ${state} to ${to}`).sort();
  const expected = world.toldUnits
    .flatMap(({ tag, state }) => ['rider', 'workshop'].map((to) => `${tag} ${state} to ${to}`))
    .sort();
  return [
    ...expected.filter((one) => !found.includes(one)).map((one) => `no notice: ${one}`),
    ...found
      .filter((one, i) => !expected.includes(one) || found.indexOf(one) !== i)
      .map((one) => `a notice too many: ${one}`),
  ];
}

function mailFaults(world: CrashWorld, relay: Relay): string[] {
  const mails = world.rows<{ messageId: string; state: string }>(
    'select message_id as "messageId", state from mail',
  );
  const gone = mails.filter(({ state }) => state === 'handed-over').map(({ messageId }) => messageId);
  const taken = new Set(relay.taken.map((one) => one.messageId));
  return [
    ...gone.filter((id) => !taken.has(id)).map((id) => `handed over and never taken: ${id}`),
    ...[...taken].filter((id) => !gone.includes(id)).map((id) => `taken and not marked: ${id}`),
    ...mails.filter(({ state }) => state === 'refused').map(({ messageId }) => `refused: ${messageId}`),
  ];
}

function backupFaults(world: CrashWorld): string[] {
  const names = namesIn(world.pathOf('backups'));
  if (names.length !== 1) return [`backups: ${names.join(' ')}`];
  const elsewhere = `${world.folder}-restored`;
  try {
    const restored = runProgram([
      'restore',
      world.pathOf('backups', names[0]!),
      '--data',
      elsewhere,
      '--now',
      NOW,
    ]);
    return restored.status === 0 ? checkFaults(elsewhere) : [`restore: ${restored.stderr}`];
  } finally {
    rmSync(elsewhere, { recursive: true, force: true });
  }
}

function checkFaults(folder: string): string[] {
  const check = runProgram(['check', '--json', '--data', folder, '--now', NOW]);
  return check.rows[0]?.ok === true ? [] : [`check: ${check.stdout}${check.stderr}`];
}
