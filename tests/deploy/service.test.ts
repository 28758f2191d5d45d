/** The service of systemd and the container, as far as they can be tried without either. */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, chownSync, cpSync, existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeLedger } from '../faults/serving.js';
import { BUILT, eventually, scratchFolder } from '../fixtures/program.js';

const ROOT = resolve(import.meta.dirname, '../..');
const UNIT = join(ROOT, 'deploy/stanchion.service');
const unit = readFileSync(UNIT, 'utf8');
const container = readFileSync(join(ROOT, 'deploy/Containerfile'), 'utf8');
const settingOf = (name: string): string | undefined => new RegExp(`^${name}=(.*)$`, 'm').exec(unit)?.[1];
const ignored = readFileSync(join(ROOT, '.dockerignore'), 'utf8').split('\n');
/** Returns the commands that the head of a file of deploy/ tells to type, a continued one on one line. */
const commandsOf = (text: string): string[] =>
  text
    .slice(0, text.search(/^[^#]/m))
    .replaceAll(/\\\n#/g, ' ')
    .split('\n')
    .filter((line) => line.startsWith('#   '))
    .map((line) => line.slice(1).replaceAll(/\s+/g, ' ').trim());
/** Zero where there is no systemd. */
const systemd = Number(
  /^systemd (\d+)/.exec(spawnSync('systemd-analyze', ['--version']).stdout?.toString() ?? '')?.[1] ?? 0,
);
/** "nobody" by convention. */
const NOBODY = 65_534;

describe('the service', () => {
  it('is no root, gains no rights, and writes nowhere but to its data', () => {
    expect(settingOf('User')).toBe('stanchion');
    for (const [name, value] of [
      ['NoNewPrivileges', 'yes'],
      ['CapabilityBoundingSet', ''],
      ['ProtectSystem', 'strict'],
      ['ProtectHome', 'yes'],
      ['PrivateTmp', 'yes'],
      ['PrivateDevices', 'yes'],
      ['ReadWritePaths', '/var/lib/stanchion'],
      ['InaccessiblePaths', '-/dev/shm -/dev/mqueue'],
      ['StateDirectoryMode', '0700'],
      ['UMask', '0077'],
      ['RestrictNamespaces', 'yes'],
      ['MemoryMax', '1G'],
      ['TasksMax', '64'],
      ['KillSignal', 'SIGTERM'],
      ['Restart', 'on-failure'],
    ])
      expect([name, settingOf(name!)]).toEqual([name, value]);
  });

  it('starts a program that the build makes', () => {
    const program = /\/opt\/stanchion\/dist\/(\S+) serve$/.exec(settingOf('ExecStart')!)![1]!;
    expect(existsSync(join(BUILT, program))).toBe(true);
  });

  it('is set up in an order that works: built with what the build needs, a ledger before it is served', () => {
    const commands = commandsOf(unit);
    expect(commands[0]).toMatch(/tar xzf stanchion-\*\.tgz -C \/opt\/stanchion .*&& npm ci --omit=dev\)$/);
    expect(commands[1]).toBe('npm ci && npm run build && npm prune --omit=dev');
    const at = (start: string): number => commands.findIndex((command) => command.startsWith(start));
    expect([at('useradd'), at('systemd-run'), at('cp deploy/stanchion.service')]).toEqual([2, 3, 4]);
    expect(commands[4]).toMatch(/daemon-reload && systemctl enable --now stanchion$/);
  });

  it('has its commands run as the same user, with the same settings, folder and program', () => {
    const command = commandsOf(unit).find((line) => line.startsWith('systemd-run'))!;
    for (const name of ['User', 'UMask', 'EnvironmentFile', 'StateDirectory', 'StateDirectoryMode'])
      expect(command).toContain(` -p ${name}=${settingOf(name)} `);
    const data = /STANCHION_DATA=\S+/.exec(settingOf('Environment')!)![0];
    expect(command).toContain(` -E ${data} ${settingOf('ExecStart')!.replace(/serve$/, 'setup')}`);
    expect(data).toBe(`STANCHION_DATA=${settingOf('ReadWritePaths')}`);
  });

  it.skipIf(systemd === 0)(
    'is a unit that systemd understands (left out where there is no systemd-analyze)',
    () => {
      const { stdout, stderr } = spawnSync('systemd-analyze', ['verify', '--man=no', UNIT], {
        encoding: 'utf8',
      });
      // Whether /usr/bin/node is there is this machine's business.
      const said = `${stdout}${stderr}`.split('\n').filter((line) => line.includes('stanchion.service'));
      expect(said.filter((line) => !line.includes('is not executable'))).toEqual([]);
    },
  );

  it.skipIf(systemd === 0)(
    'comes with a watch, its timer and workers that systemd understands (left out where there is no systemd-analyze)',
    () => {
      const folder = scratchFolder();
      const names = ['stanchion.service', 'stanchion-watch.service', 'stanchion-watch.timer'];
      for (const name of names) cpSync(join(ROOT, 'deploy', name), join(folder, name));
      for (const part of ['ingest', 'web']) {
        const name = `stanchion-worker@${part}.service`;
        cpSync(join(ROOT, 'deploy/stanchion-worker@.service'), join(folder, name));
        names.push(name);
      }
      const { stdout, stderr } = spawnSync(
        'systemd-analyze',
        ['verify', '--man=no', ...names.map((name) => join(folder, name))],
        { encoding: 'utf8' },
      );
      const said = `${stdout}${stderr}`.split('\n').filter((line) => line.includes('stanchion'));
      expect(said.filter((line) => !line.includes('is not executable'))).toEqual([]);
    },
  );

  it.skipIf(systemd < 250)(
    'is as shut as systemd says, 1.5 of 10 at most (left out where there is no systemd-analyze of 250 or later)',
    () => {
      const { status, stdout } = spawnSync(
        'systemd-analyze',
        ['security', '--offline=true', '--threshold=15', '--no-pager', UNIT],
        { encoding: 'utf8' },
      );
      expect(stdout).toMatch(/exposure level for stanchion\.service: \d/);
      expect([status, stdout]).toEqual([0, stdout]);
    },
  );
});

describe('the container', () => {
  const last = container.slice(container.lastIndexOf('\nFROM '));
  it('is no root, holds no build tools, and answers for itself', () => {
    expect(last).toMatch(/^USER node$/m);
    expect(last.indexOf('USER node')).toBeLessThan(last.indexOf('CMD ["stanchion"'));
    expect(last).not.toMatch(/npm ci|RUN npm/);
    expect(last).toMatch(/HEALTHCHECK[\s\S]*\/healthz/);
    expect(last).toMatch(/^STOPSIGNAL SIGTERM$/m);
  });

  it('takes in what the build needs and nothing else that lies in the folder, a ledger least of all', () => {
    const letIn = ignored.filter((line) => line.startsWith('!')).map((line) => line.slice(1));
    expect(ignored.find((line) => line !== '' && !line.startsWith('#'))).toBe('*');
    expect(ignored.filter((line) => !/^($|#|\*$|![a-z-]+(\.[a-z]+)*$)/i.test(line))).toEqual([]);
    for (const path of letIn) expect([path, existsSync(join(ROOT, path))]).toEqual([path, true]);
    // Read by some engines only, which then pass over the other.
    expect(existsSync(join(ROOT, '.containerignore'))).toBe(false);
    const build = JSON.parse(readFileSync(join(ROOT, 'tsconfig.build.json'), 'utf8')) as {
      include: string[];
    };
    expect([...letIn].sort()).toEqual(
      [
        'LICENSE',
        'package.json',
        'package-lock.json',
        'tsconfig.json',
        'tsconfig.build.json',
        ...build.include,
      ].sort(),
    );
  });

  it('is set up in an order that works, and served without rights, within bounds, to this machine only', () => {
    const [build, setup, serve] = commandsOf(container);
    expect(build).toBe('docker build -f deploy/Containerfile -t stanchion .');
    expect(setup).toMatch(/^docker run --rm -it -v stanchion-data:\/data stanchion stanchion setup$/);
    for (const words of [
      '--init',
      '--read-only',
      '--cap-drop ALL',
      '--security-opt no-new-privileges',
      '--memory 1g',
      `--pids-limit ${settingOf('TasksMax')}`,
      `--stop-timeout ${settingOf('TimeoutStopSec')}`,
      '--restart unless-stopped',
      '-v stanchion-data:/data',
      '-p 127.0.0.1:8321:8321',
    ])
      expect(serve).toContain(` ${words} `);
    expect(container).toContain('--format docker');
  });
});

it('has a health check that tells a program that serves from one that does not', async () => {
  const command = JSON.parse(/^HEALTHCHECK .*\\\n\s+CMD (\[.*\])$/m.exec(container)![1]!) as string[];
  expect(command[0]).toBe('node');
  const answering = async (status: number): Promise<number | null> => {
    const server = createServer((request, response) => {
      response.writeHead(request.url === '/healthz' ? status : 500).end();
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const { port } = server.address() as AddressInfo;
    const asked = command.slice(1).map((word) => word.replace(':8321/', `:${port}/`));
    if (status === 0) server.close();
    const child = spawn(process.execPath, asked, { stdio: 'ignore' });
    const code = await new Promise<number | null>((done) => child.once('exit', done));
    server.close();
    return code;
  };
  expect([await answering(200), await answering(503), await answering(0)]).toEqual([0, 1, 1]);
}, 60_000);

it('as a user without rights it serves, says that it is well, keeps its files to itself, and ends when asked', async () => {
  const data = scratchFolder();
  makeLedger(data);
  const isRoot = process.getuid!() === 0;
  if (isRoot) spawnSync('chown', ['-R', `${NOBODY}:${NOBODY}`, data]);
  chmodSync(data, 0o700);
  if (isRoot) chownSync(data, NOBODY, NOBODY);
  const child = spawn(
    'sh',
    [
      '-c',
      `umask 077; exec "$0" "$@"`,
      process.execPath,
      join(BUILT, 'src/cli/main.js'),
      'serve',
      '--json',
      '--port',
      '0',
    ],
    {
      cwd: data,
      env: { PATH: process.env.PATH, STANCHION_DATA: data, NODE_ENV: 'production' },
      stdio: ['ignore', 'pipe', 'inherit'],
      ...(isRoot ? { uid: NOBODY, gid: NOBODY } : {}),
    },
  );
  const ended = new Promise<number | null>((done) => child.once('exit', done));
  let said = '';
  child.stdout.on('data', (chunk) => {
    said += String(chunk);
  });
  try {
    const line = await eventually(() => (said.includes('\n') ? said.slice(0, said.indexOf('\n')) : null));
    const { url } = JSON.parse(line) as { url: string };
    for (const path of ['/healthz', '/readyz'])
      expect((await fetch(url + path, { headers: { connection: 'close' } })).status).toBe(200);
    await eventually(() => (existsSync(join(data, 'secret')) ? true : null));
    expect(statSync(join(data, 'secret')).mode & 0o077).toBe(0);
  } finally {
    child.kill('SIGTERM');
  }
  expect(await ended).toBe(0);
}, 120_000);

describe('the watch', () => {
  const watched = async (answer: number | null): Promise<number | null> => {
    const server = createServer((_request, response) => {
      if (answer !== null) response.writeHead(answer).end();
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const { port } = server.address() as AddressInfo;
    const child = spawn(process.execPath, [join(BUILT, 'workers/watch.js')], {
      stdio: 'ignore',
      env: { PATH: process.env.PATH, PORT: String(port), STANCHION_WATCH_WAIT_MS: '300' },
    });
    if (answer === 0) server.close();
    const code = await new Promise<number | null>((done) => child.once('exit', done));
    server.closeAllConnections();
    server.close();
    return code;
  };

  it('asks for a start anew where health stays red or hangs, and not while nothing listens', async () => {
    expect([await watched(200), await watched(503), await watched(null)]).toEqual([0, 1, 1]);
    const nobody = spawnSync(process.execPath, [join(BUILT, 'workers/watch.js')], {
      env: { PATH: process.env.PATH, PORT: '1', STANCHION_WATCH_WAIT_MS: '300' },
    });
    expect(nobody.status).toBe(0);
  }, 60_000);

  it('is a unit that restarts the service, and looks each minute', () => {
    const watch = readFileSync(join(ROOT, 'deploy/stanchion-watch.service'), 'utf8');
    const script = /\/opt\/stanchion\/dist\/(\S+)/.exec(watch)![1]!;
    expect(existsSync(join(BUILT, script))).toBe(true);
    expect(watch).toMatch(/\|\| systemctl restart stanchion\.service'$/m);
    expect(readFileSync(join(ROOT, 'deploy/stanchion-watch.timer'), 'utf8')).toMatch(
      /^OnUnitInactiveSec=1min$/m,
    );
  });
});

describe('the service of a single worker', () => {
  const worker = readFileSync(join(ROOT, 'deploy/stanchion-worker@.service'), 'utf8');
  it('is shut as the whole service is, and runs a worker that the build makes', () => {
    const settings = (text: string): string[] =>
      text
        .slice(text.indexOf('[Service]'))
        .split('\n')
        .filter((line) => /^[A-Z]\w+=/.test(line) && !line.startsWith('ExecStart='));
    expect(settings(worker)).toEqual(settings(unit));
    expect(worker).toMatch(/^ExecStart=\/usr\/bin\/node \/opt\/stanchion\/dist\/workers\/%i\.js$/m);
    for (const name of ['ingest', 'takeMails', 'remind', 'deliver', 'keep', 'web'])
      expect(existsSync(join(BUILT, `workers/${name}.js`))).toBe(true);
  });
});

it('the package comes with a checksum that fits, and not of what is not committed', () => {
  const [copy, into] = [scratchFolder(), scratchFolder()];
  const run = (program: string, ...args: string[]) =>
    spawnSync(program, args, { cwd: copy, encoding: 'utf8', env: { ...process.env, RELEASE_NO_BUILD: '1' } });
  for (const name of ['package.json', 'package-lock.json', 'README.md', 'LICENSE', 'deploy/release.sh']) {
    spawnSync('install', ['-D', join(ROOT, name), join(copy, name)]);
  }
  chmodSync(join(copy, 'deploy/release.sh'), 0o755);
  run('git', 'init', '-q');
  const early = run('deploy/release.sh', into);
  expect([early.status, early.stderr]).toEqual([1, expect.stringContaining('not committed')]);
  run('git', 'add', '-A');
  run('git', '-c', 'user.name=a', '-c', 'user.email=a@example.org', 'commit', '-qm', 'a');
  expect(run('deploy/release.sh', into).stderr).toBe('');
  const checked = spawnSync('sha256sum', ['-c', 'SHA256SUMS'], { cwd: into, encoding: 'utf8' });
  expect([checked.status, checked.stdout]).toEqual([0, expect.stringMatching(/^stanchion-.*\.tgz: OK$/m)]);
  // What it runs with is pinned where it is unpacked, and nothing is left where it was packed.
  spawnSync('tar', ['xzf', /stanchion-.*\.tgz/.exec(checked.stdout)![0]], { cwd: into });
  expect(readFileSync(join(into, 'package/npm-shrinkwrap.json'), 'utf8')).toBe(
    readFileSync(join(ROOT, 'package-lock.json'), 'utf8'),
  );
  expect(run('git', 'status', '--porcelain').stdout).toBe('');
}, 60_000);
