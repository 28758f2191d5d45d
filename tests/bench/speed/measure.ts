import { type ChildProcess, spawn } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  writeFileSync,
} from 'node:fs';
import { cpus } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';

const PROGRAM = resolve('dist/src/cli/main.js');
const NOW = '2025-06-18T12:00:00Z';
/**
 * Prints the highest memory that the process ever held as its last word. What the system's usage figures say begins with
 * the memory of whoever started the process, so it is read from elsewhere. Units: kilobytes.
 */
const TELL_PEAK = `data:text/javascript,import { readFileSync } from 'node:fs';process.on('exit',()=>process.stderr.write('\\npeak '+/VmHWM:\\s+(\\d+)/.exec(readFileSync('/proc/self/status','utf8'))[1]+' '+(process.cpuUsage().user+process.cpuUsage().system)+'\\n'))`;
const LONGEST_MS = 1_800_000;
const LOOK_MS = 50;

/** Invented: one rider, one bike, one fork that came new long ago. */
const DOCUMENT = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'UTC',
    openDays: ['mon'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
  },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2000-01-01' }],
};

export interface Measured {
  readonly seconds: number;
  readonly peakMb: number;
  /** Of the processor, in all threads. */
  readonly cpuS: number;
  /** Share of the cores that its threads ran on or waited for, which other work on the machine hardly changes. */
  readonly busy: number;
  /** Files of which something was told. */
  readonly told: number;
  readonly counted: number;
  /** Of files that did not count. */
  readonly codes: readonly string[];
}

interface Run {
  readonly child: ChildProcess;
  readonly startedAt: number;
  readonly ended: Promise<{
    readonly seconds: number;
    readonly peakMb: number;
    readonly cpuS: number;
    readonly busy: number;
    readonly stdout: string;
  }>;
}

/** Returns the share of the cores for which a program has threads that run or could. Source: proc(5), /proc/pid/stat. */
function coresWanted(pid: number): number {
  try {
    const tasks = readdirSync(`/proc/${pid}/task`);
    const running = tasks.filter((task) =>
      /\) R /.test(readFileSync(`/proc/${pid}/task/${task}/stat`, 'utf8')),
    );
    return Math.min(cpus().length, running.length) / cpus().length;
  } catch {
    // A thread, or the program, that ended meanwhile.
    return 0;
  }
}

function start(args: readonly string[]): Run {
  const startedAt = performance.now();
  const child = spawn(process.execPath, ['--import', TELL_PEAK, PROGRAM, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const said = { stdout: '', stderr: '' };
  const looks: number[] = [];
  const looking = setInterval(() => looks.push(coresWanted(child.pid!)), LOOK_MS);
  for (const stream of ['stdout', 'stderr'] as const)
    child[stream].on('data', (chunk) => {
      said[stream] += String(chunk);
    });
  const ended = new Promise<Awaited<Run['ended']>>((end, fail) => {
    child.once('close', () => {
      clearInterval(looking);
      const peak = [...said.stderr.matchAll(/^peak (\d+) (\d+)$/gm)].at(-1);
      if (peak === undefined) fail(new Error(said.stderr));
      else
        end({
          seconds: (performance.now() - startedAt) / 1000,
          peakMb: Number(peak[1]) / 1024,
          cpuS: Number(peak[2]) / 1e6,
          busy: looks.reduce((sum, share) => sum + share, 0) / Math.max(1, looks.length),
          stdout: said.stdout,
        });
    });
  });
  return { child, startedAt, ended };
}

/** Returns a data folder with an invented workshop. */
export async function newLedger(folder: string): Promise<string> {
  const data = mkdtempSync(join(folder, 'data-'));
  const file = join(data, 'setup.json');
  writeFileSync(file, JSON.stringify(DOCUMENT));
  await start(['import', file, '--data', data]).ended;
  return data;
}

/** Takes a file, given as its bytes or where it lies, by the command line. */
export async function measureTake(data: string, from: Uint8Array | string, name: string): Promise<Measured> {
  const path = typeof from === 'string' ? from : join(data, name);
  if (typeof from !== 'string') writeFileSync(path, from);
  const { stdout, ...measured } = await start([
    ...['take', path, '--rider', 'r1', '--json'],
    ...['--data', data, '--now', NOW],
  ]).ended;
  const rows = stdout
    .split('\n')
    .filter((line) => line.startsWith('{'))
    .map((line) => JSON.parse(line) as { outcome: string; code: string | null });
  return {
    ...measured,
    told: rows.length,
    counted: rows.filter((row) => row.outcome === 'counted').length,
    codes: [...new Set(rows.flatMap((row) => (row.code === null ? [] : [row.code])))],
  };
}

/** Lays a file into the drop folder of the serving program and waits until it is told of. */
export async function measureDrop(data: string, bytes: Uint8Array, name: string): Promise<Measured> {
  const path = join(data, 'inbox', 'r1', name);
  mkdirSync(dirname(path), { recursive: true });
  const run = start(['serve', '--port', '0', '--data', data, '--now', NOW]);
  writeFileSync(`${path}.part`, bytes);
  renameSync(`${path}.part`, path);
  const told = join(dirname(path), 'what happened.txt');
  const until = performance.now() + LONGEST_MS;
  const isDone = (): boolean =>
    existsSync(told) && /^counted/.test(readFileSync(told, 'utf8').split(`${name}: `)[1] ?? '');
  while (!isDone()) {
    if (performance.now() > until) throw new Error('It was not told of in time.');
    await later(200);
  }
  const seconds = (performance.now() - run.startedAt) / 1000;
  run.child.kill('SIGTERM');
  const { peakMb, cpuS, busy } = await run.ended;
  const counted = Number(/counted: (\d+)/.exec(readFileSync(told, 'utf8'))?.[1] ?? 0);
  return { seconds, peakMb, cpuS, busy, told: counted, counted, codes: [] };
}
