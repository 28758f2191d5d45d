/** A PostgreSQL server of the tests' own, on loopback, in a folder that goes away with it. */
import { execFileSync, spawn } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import pg from 'pg';

/** Where Debian's packages put the programs, one folder a version. */
const PROGRAMS = '/usr/lib/postgresql';
const START_TRIES = 100;

export interface Server {
  /** Of its first database. */
  readonly url: string;
  /** Ends it, and all who are connected with it, and leaves its data. */
  halt(): Promise<void>;
  resume(): Promise<void>;
  stop(): Promise<void>;
}

/** Returns the folder of the newest version's programs; null on a machine without them. */
export function programFolder(): string | null {
  if (!existsSync(PROGRAMS)) return null;
  const versions = readdirSync(PROGRAMS).sort((a, b) => Number(b) - Number(a));
  return (
    versions
      .map((version) => join(PROGRAMS, version, 'bin'))
      .find((bin) => existsSync(join(bin, 'initdb'))) ?? null
  );
}

/** The server refuses to run as root: then it runs as the user that came with its package. */
function userOfServer(): { uid: number; gid: number } | Record<string, never> {
  if (process.getuid?.() !== 0) return {};
  const numberOf = (flag: string) => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
  return { uid: numberOf('-u'), gid: numberOf('-g') };
}

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.on('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });

export async function startServer(): Promise<Server> {
  const bin = programFolder();
  if (bin === null) throw new Error(`PostgreSQL is not installed: there is no initdb below ${PROGRAMS}`);
  const user = userOfServer();
  const folder = mkdtempSync(join(tmpdir(), 'stanchion-server-'));
  if (user.uid !== undefined) chownSync(folder, user.uid, user.gid);
  const as = { ...user, cwd: folder };
  const data = join(folder, 'data');
  execFileSync(
    join(bin, 'initdb'),
    ['-D', data, '-U', 'stanchion', '-A', 'trust', '-E', 'UTF8', '--locale=C', '--no-sync'],
    { ...as, stdio: 'ignore' },
  );
  const port = await freePort();
  const settings = [
    ...['fsync=off', 'synchronous_commit=off', 'full_page_writes=off', 'max_connections=300'],
    // Its own work behind the scenes, for hundreds of databases that live for seconds.
    ...['autovacuum=off', 'wal_level=minimal', 'max_wal_senders=0', 'checkpoint_timeout=1d'],
  ];
  const url = `postgresql://stanchion@127.0.0.1:${port}/postgres`;
  let halt = async (): Promise<void> => undefined;
  const resume = async (): Promise<void> => {
    const server = spawn(
      join(bin, 'postgres'),
      [
        ...['-D', data, '-p', String(port), '-h', '127.0.0.1', '-k', folder],
        ...settings.flatMap((one) => ['-c', one]),
      ],
      { ...as, stdio: 'ignore' },
    );
    const ended = new Promise<void>((resolve) => server.once('exit', () => resolve()));
    halt = () => {
      server.kill('SIGINT');
      return ended;
    };
    await untilItAnswers(url);
  };
  await resume();
  return {
    url,
    halt: () => halt(),
    resume,
    stop: async () => {
      await halt();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function untilItAnswers(url: string): Promise<void> {
  for (let tried = 1; ; tried += 1) {
    const client = new pg.Client({ connectionString: url });
    // A server that has not come up yet cuts connections.
    client.on('error', () => undefined);
    try {
      await client.connect();
      await client.end();
      return;
    } catch (error) {
      if (tried === START_TRIES) throw error;
      await setTimeout(100);
    }
  }
}
