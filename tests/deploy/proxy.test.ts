/** The guide's two reverse proxies, as the guide has them, in front of the real program. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import { type AddressInfo, createServer } from 'node:net';
import { join, resolve } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { type Answer, fileForm, openDoor, PASSWORD } from '../attacks/openDoor.js';
import { eventually, scratchFolder } from '../fixtures/program.js';

const HOST = 'bench.example.org';
const SITE = `https://${HOST}`;
const METRICS = 'an-invented-secret-for-figures';
const GUIDE = readFileSync(resolve(import.meta.dirname, '../../docs/PROXY.md'), 'utf8');
const PATH = `${process.env.PATH}:/usr/sbin`;
/** Left out where it is not installed, with the reason; in CI that is a failure. */
const isLeftOut = (program: string): boolean =>
  process.env.CI === undefined && spawnSync(program, ['-v'], { env: { PATH } }).error !== undefined;

const partOf = (language: string): string =>
  new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(GUIDE)![1]!;

/** Returns the text with each of these in the place of what the guide says, which must be there. */
const changed = (text: string, changes: readonly (readonly [said: string, here: string])[]): string =>
  changes.reduce((left, [said, here]) => {
    expect(left).toContain(said);
    return left.replaceAll(said, here);
  }, text);

interface Place {
  readonly folder: string;
  readonly ports: { readonly https: number; readonly http: number };
  readonly behind: string;
  readonly certificate: string;
  readonly key: string;
}

const PROXIES = {
  nginx: ({ folder, ports, behind }: Place): { file: string; args: string[] } => {
    const server = changed(partOf('nginx'), [
      ['/etc/ssl/bench.example.org.crt', join(folder, 'site.crt')],
      ['/etc/ssl/private/bench.example.org.key', join(folder, 'site.key')],
      ['listen 443 ssl', `listen 127.0.0.1:${ports.https} ssl`],
      ['listen 80', `listen 127.0.0.1:${ports.http}`],
      ['127.0.0.1:8321', behind],
      ['/var/log/nginx/stanchion.log', join(folder, 'stanchion.log')],
    ]);
    const temporary = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi'].map(
      (name) => `${name}_temp_path ${join(folder, name)};`,
    );
    const isRoot = process.getuid!() === 0;
    const file = `${isRoot ? 'user root;' : ''} daemon off; worker_processes 1; pid ${join(folder, 'pid')};
error_log ${join(folder, 'error.log')} info;
events {}
http {
access_log ${join(folder, 'access.log')};
${temporary.join('\n')}
${server}}
`;
    return { file, args: ['-p', folder, '-c', join(folder, 'proxy.conf')] };
  },
  haproxy: ({ folder, ports, behind }: Place): { file: string; args: string[] } => {
    const site = changed(partOf('haproxy'), [
      ['/etc/haproxy/bench.example.org.pem', join(folder, 'site.pem')],
      ['bind :443', `bind 127.0.0.1:${ports.https}`],
      ['bind :80', `bind 127.0.0.1:${ports.http}`],
      ['127.0.0.1:8321', behind],
    ]);
    // As Debian's own file has them, but that the log goes where the test sees it.
    const file = `global
  log stdout format raw local0
defaults
  log global
  option httplog
  timeout connect 5000
  timeout client 50000
  timeout server 50000
${site}`;
    return { file, args: ['-db', '-f', join(folder, 'proxy.conf')] };
  },
};

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  await new Promise((done) => server.close(done));
  return port;
}

function makeCertificate(folder: string): { certificate: string; key: string } {
  const [key, certificate] = [join(folder, 'site.key'), join(folder, 'site.crt')];
  const { status, stderr } = spawnSync(
    'openssl',
    [
      ...['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-days', '2'],
      ...[
        '-subj',
        `/CN=${HOST}`,
        '-addext',
        `subjectAltName=DNS:${HOST}`,
        '-keyout',
        key,
        '-out',
        certificate,
      ],
    ],
    { encoding: 'utf8' },
  );
  if (status !== 0) throw new Error(`A certificate could not be made: ${stderr}`);
  writeFileSync(join(folder, 'site.pem'), readFileSync(certificate, 'utf8') + readFileSync(key, 'utf8'));
  return { certificate: readFileSync(certificate, 'utf8'), key };
}

/** Starts the program and a proxy before it; both end with the test. */
async function behind(program: keyof typeof PROXIES) {
  const door = await openDoor({
    STANCHION_PUBLIC_URL: SITE,
    STANCHION_TRUSTED_PROXY: '127.0.0.1',
    STANCHION_METRICS_SECRET: METRICS,
  });
  const folder = scratchFolder();
  const { certificate, key } = makeCertificate(folder);
  const ports = { https: await freePort(), http: await freePort() };
  const place = { folder, ports, behind: new URL(door.serving.url).host, certificate, key };
  const { file, args } = PROXIES[program](place);
  writeFileSync(join(folder, 'proxy.conf'), file);
  const child: ChildProcess = spawn(program, args, { env: { PATH }, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [child.stdout!, child.stderr!])
    stream.on('data', (chunk) => {
      said += String(chunk);
    });
  const ended = new Promise((done) => child.once('exit', done));
  onTestFinished(async () => {
    child.kill('SIGTERM');
    await ended;
  });
  const ask = (
    path: string,
    { from = '127.0.0.1', method = 'GET', headers = {}, body }: Parameters<typeof door.ask>[1] = {},
  ): Promise<Answer> =>
    new Promise((done, fail) => {
      const sent = request(
        {
          ...{ host: '127.0.0.1', port: ports.https, servername: HOST, ca: certificate },
          ...{ path, method, localAddress: from, agent: false },
          headers: { host: HOST, origin: SITE, ...headers },
        },
        (response) => {
          const chunks: Buffer[] = [];
          response.on('data', (chunk: Buffer) => chunks.push(chunk));
          response.on('error', fail);
          response.on('end', () =>
            done({
              status: response.statusCode!,
              headers: response.headers,
              text: Buffer.concat(chunks).toString('utf8'),
            }),
          );
        },
      );
      sent.on('error', fail);
      sent.end(body);
    });
  let isUp = false;
  await eventually(() => {
    if (child.exitCode !== null) throw new Error(`The proxy ended: ${said}`);
    void ask('/healthz').then(
      ({ status }) => {
        isUp ||= status === 200;
      },
      () => undefined,
    );
    return isUp ? true : null;
  });
  const logged = (): string =>
    said +
    ['error.log', 'access.log', 'stanchion.log']
      .map((name) => {
        const read = spawnSync('cat', [join(folder, name)], { encoding: 'utf8' });
        return read.stdout;
      })
      .join('');
  return { door, ask, ports, logged };
}

const FORM = { 'content-type': 'application/x-www-form-urlencoded' };
const signIn = (password: string) => new URLSearchParams({ name: 'owner', password }).toString();

describe.each(['nginx', 'haproxy'] as const)('behind %s, set up as the guide says', (program) => {
  const isOut = isLeftOut(program);
  it.skipIf(isOut)(
    `people sign in by HTTPS, each by their own address, and figures stay inside (left out where there is no ${program})`,
    async () => {
      const { door, ask, ports, logged } = await behind(program);
      expect(JSON.parse((await ask('/healthz')).text)).toEqual({ ok: true });
      expect((await ask('/metrics')).status).toBe(404);
      const shown = await ask('/metrics', { headers: { authorization: `Bearer ${METRICS}` } });
      expect([shown.status, shown.text]).toEqual([200, expect.stringContaining('stanchion_ready 1')]);

      const from = '127.3.0.1';
      for (let i = 0; i < 8; i++)
        await ask('/sign-in', { from, method: 'POST', headers: FORM, body: signIn('x'.repeat(201)) });
      const post = { method: 'POST', body: signIn(PASSWORD) } as const;
      expect((await ask('/sign-in', { ...post, from, headers: FORM })).status).toBe(429);
      for (const name of ['x-forwarded-for', 'forwarded', 'x-real-ip']) {
        const lied = await ask('/sign-in', { ...post, from, headers: { ...FORM, [name]: '198.51.100.9' } });
        expect([name, lied.status]).toEqual([name, 429]);
      }
      const owner = await ask('/sign-in', { ...post, from: '127.3.0.2', headers: FORM });
      expect(owner.status).toBe(303);
      const session = owner.headers['set-cookie']!.find((line) => line.startsWith('__Host-session='))!;
      expect(session).toMatch(/; Secure/);
      expect(owner.headers['strict-transport-security']).toMatch(/^max-age=\d+/);
      const today = await ask('/', { headers: { cookie: session.split(';')[0]! } });
      expect(today.status).toBe(200);

      const home = await door.linkOf('r1', 'page');
      const { type, before, after } = fileForm('large.fit');
      const answer = await ask(`${home}/files`, {
        method: 'POST',
        headers: { 'content-type': type, accept: 'application/json' },
        body: Buffer.concat([before, Buffer.alloc(60_000_000), after]),
      });
      expect([answer.status, JSON.parse(answer.text).answers.length]).toEqual([200, 1]);

      const plain = await fetch(`http://127.0.0.1:${ports.http}/due`, {
        headers: { host: HOST },
        redirect: 'manual',
      });
      expect(plain.status).toBe(301);
      expect(plain.headers.get('location')).toMatch(/^https:\/\/[^/]+\/due$/);
      await door.serving.stop();
      expect((await ask(home)).status).toBeGreaterThanOrEqual(502);
      expect(logged()).not.toContain('/r/page/');
    },
    120_000,
  );
});
