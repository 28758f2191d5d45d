/** The service of systemd and the container, as far as they can be tried without either. */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, chownSync, existsSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeLedger } from '../faults/serving.js';
import { BUILT, eventually, scratchFolder } from '../fixtures/program.js';

const ROOT = resolve(import.meta.dirname, '../..');
const UNIT = join(ROOT, 'deploy/stanchion.service');
const unit = readFileSync(UNIT, 'utf8');
const container = readFileSync(join(ROOT, 'deploy/Containerfile'), 'utf8');
const settingOf = (name: string): string | undefined => new RegExp(`^${name}=(.*)$`, 'm').exec(unit)?.[1];
const canVerify = spawnSync('systemd-analyze', ['--version']).status === 0;
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
      ['UMask', '0077'],
      ['KillSignal', 'SIGTERM'],
    ])
      expect([name, settingOf(name!)]).toEqual([name, value]);
  });

  it('starts a program that the build makes', () => {
    const program = /\/opt\/stanchion\/dist\/(\S+) serve$/.exec(settingOf('ExecStart')!)![1]!;
    expect(existsSync(join(BUILT, program))).toBe(true);
  });

  it.skipIf(!canVerify)(
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
});

describe('the container', () => {
  const last = container.slice(container.lastIndexOf('\nFROM '));
  it('is no root, holds no build tools, and answers for itself', () => {
    expect(last).toMatch(/^USER node$/m);
    expect(last.indexOf('USER node')).toBeLessThan(last.indexOf('CMD ["stanchion"'));
    expect(last).not.toMatch(/npm ci|RUN npm/);
    expect(last).toMatch(/HEALTHCHECK[\s\S]*\/readyz/);
    expect(last).toMatch(/^STOPSIGNAL SIGTERM$/m);
  });
});

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
