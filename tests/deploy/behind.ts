/** The guide's two reverse proxies, as the guide has them, in front of the real program. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import { type AddressInfo, createServer } from 'node:net';
import { join, resolve } from 'node:path';
import { expect, onTestFinished } from 'vitest';
import { type Answer, openDoor } from '../attacks/openDoor.js';
import { eventually, scratchFolder } from '../fixtures/program.js';

export const HOST = 'bench.example.org';
export const SITE = `https://${HOST}`;
export const METRICS = 'an-invented-secret-for-figures';
const GUIDE = readFileSync(resolve(import.meta.dirname, '../../docs/PROXY.md'), 'utf8');
const PATH = `${process.env.PATH}:/usr/sbin`;
/** Left out where it is not installed, with the reason; in CI that is a failure. */
export const isLeftOut = (program: string): boolean =>
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
export async function behind(program: keyof typeof PROXIES) {
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
  let said = '';
  let child: ChildProcess;
  const start = (): void => {
    child = spawn(program, args, { env: { PATH }, stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [child.stdout!, child.stderr!])
      stream.on('data', (chunk) => {
        said += String(chunk);
      });
  };
  /** Ends the proxy: nobody reaches the program any more. */
  const halt = async (): Promise<void> => {
    if (child.exitCode !== null) return;
    const ended = new Promise((done) => child.once('exit', done));
    child.kill('SIGTERM');
    await ended;
  };
  onTestFinished(halt);
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
  /** Starts it, and waits until it answers. */
  const resume = async (): Promise<void> => {
    start();
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
  };
  await resume();
  const logged = (): string =>
    said +
    ['error.log', 'access.log', 'stanchion.log']
      .map((name) => {
        const read = spawnSync('cat', [join(folder, name)], { encoding: 'utf8' });
        return read.stdout;
      })
      .join('');
  return { door, ask, ports, logged, halt, resume };
}
