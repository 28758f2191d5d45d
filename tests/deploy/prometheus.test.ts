/** The alarms and the page for Prometheus: checked by its own tools, and loaded by it beside the program. */
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join, resolve } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { VERSION } from '../../src/version.js';
import { putLedger, serveIn } from '../faults/serving.js';
import { scratchFolder } from '../fixtures/program.js';

const FOLDER = resolve(import.meta.dirname, '../../deploy/prometheus');
const RULES = join(FOLDER, 'stanchion.rules.yml');
const has = ['/usr/bin/promtool', '/usr/bin/prometheus'].every((path) => existsSync(path));
/** Without its programs they are left out by hand, and fail in CI. */
const left = !has && process.env.CI === undefined;
const WHY = left ? ' (left out: Debian’s package prometheus is not installed)' : '';

const tool = (...args: string[]) => spawnSync('promtool', args, { encoding: 'utf8' });
const namesIn = (text: string): string[] => [...new Set(text.match(/stanchion_[a-z_]+/g) ?? [])].sort();

it.skipIf(left)(`the rules are sound, and each alarm goes off when it should and not before${WHY}`, () => {
  const checked = tool('check', 'rules', RULES);
  expect([checked.status, checked.stderr]).toEqual([0, '']);
  const folder = scratchFolder();
  const series = (name: string, values: string) => ({ series: name, values });
  const fires = (alertname: string, at: string, fired: readonly object[]) => ({
    eval_time: at,
    alertname,
    exp_alerts: fired,
  });
  const annotationsOf = (alert: string): Record<string, string> => {
    const [, block = ''] = new RegExp(`alert: ${alert}\\n([\\s\\S]*?)(?:\\n      - alert|$)`).exec(
      readFileSync(RULES, 'utf8'),
    )!;
    const of = (key: string): string => new RegExp(`${key}: '?(.*?)'?$`, 'm').exec(block)![1]!;
    return { summary: of('summary'), what_to_do: of('what_to_do') };
  };
  /** The same alarm, silent at one moment and gone off at another. */
  const goes = (
    alert: string,
    [before, after]: readonly [string, string],
    labels: object,
    summary?: string,
  ): object[] => [
    fires(alert, before, []),
    fires(alert, after, [
      {
        exp_labels: labels,
        exp_annotations: { ...annotationsOf(alert), ...(summary !== undefined && { summary }) },
      },
    ]),
  ];
  const tests = [
    {
      interval: '1m',
      input_series: [
        series('up{job="stanchion"}', '1x5 0x20'),
        series('stanchion_not_ready{reason="disk"}', '0x5 1x20'),
        series('stanchion_not_ready{reason="store"}', '0x30'),
        // Within an hour a mail is no trouble; this one waits for longer from the 20th minute on.
        series('stanchion_mail_oldest_wait_seconds', '0x10 600+300x40'),
        series('stanchion_loops_left', '0x5 1x30'),
      ],
      alert_rule_test: [
        ...goes('StanchionGone', ['7m', '12m'], { job: 'stanchion', severity: 'page' }),
        ...goes(
          'StanchionNotReady',
          ['9m', '15m'],
          { reason: 'disk', severity: 'page' },
          'Stanchion is not ready: disk.',
        ),
        ...goes(
          'StanchionMailWaits',
          ['25m', '35m'],
          { severity: 'ticket' },
          'A mail has waited for 2h 10m 0s.',
        ),
        ...goes('StanchionLoopLeft', ['14m', '20m'], { severity: 'page' }),
      ],
    },
    {
      interval: '1m',
      input_series: [
        series('stanchion_mails{state="refused"}', '4x120 5x3000'),
        series('stanchion_mails{state="handed-over"}', '10+5x3000'),
        // 2.4 GB an hour of 100 GB: full within two days.
        series('stanchion_disk_free_bytes', '100000000000x360 100000000000-40000000x2000'),
        series('stanchion_files_day{outcome="set-aside"}', '20x120 25x600'),
        series('stanchion_files_day{outcome="ride"}', '900x720'),
        series('stanchion_units{state="stop-riding"}', '0x60 2x4000'),
        series('stanchion_units{state="due"}', '40x4000'),
      ],
      alert_rule_test: [
        ...goes('StanchionMailRefused', ['110m', '130m'], { severity: 'ticket', state: 'refused' }),
        ...goes('StanchionDiskFills', ['350m', '12h'], { severity: 'ticket' }),
        ...goes(
          'StanchionFilesSetAside',
          ['120m', '200m'],
          { severity: 'ticket', outcome: 'set-aside' },
          '25 files of a day could not be read.',
        ),
        ...goes(
          'StanchionUnitsStopped',
          ['47h', '50h'],
          { severity: 'ticket', state: 'stop-riding' },
          '2 services of units with the mark stop riding have stood open for two days.',
        ),
      ],
    },
  ];
  const tried = JSON.stringify(tests);
  for (const [, alert] of readFileSync(RULES, 'utf8').matchAll(/alert: (\w+)/g))
    expect(tried).toContain(`"alertname":"${alert}"`);
  const file = join(folder, 'rules.test.yml');
  writeFileSync(file, JSON.stringify({ rule_files: [RULES], evaluation_interval: '1m', tests }));
  const tested = tool('test', 'rules', file);
  expect([tested.status, tested.stdout + tested.stderr]).toEqual([0, expect.stringContaining('SUCCESS')]);
});

const freePort = (): Promise<number> =>
  new Promise((done) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => done(port));
    });
  });

it.skipIf(left)(
  `Prometheus reads the program by the lines that are given, loads the rules and shows the page${WHY}`,
  async () => {
    const [data, folder] = [scratchFolder(), scratchFolder()];
    const secret = 'an-invented-secret-for-figures';
    await putLedger(data);
    const serving = await serveIn(data, { STANCHION_METRICS_SECRET: secret });
    mkdirSync(join(folder, 'consoles'));
    cpSync(join(FOLDER, 'stanchion.html'), join(folder, 'consoles/stanchion.html'));
    cpSync(RULES, join(folder, 'stanchion.rules.yml'));
    writeFileSync(join(folder, 'stanchion.secret'), secret);
    const config = readFileSync(join(FOLDER, 'scrape.yml'), 'utf8')
      .replace('127.0.0.1:8321', new URL(serving.url).host)
      .replace('/etc/prometheus/stanchion.secret', join(folder, 'stanchion.secret'))
      .replace('scrape_interval: 30s', 'scrape_interval: 1s');
    writeFileSync(join(folder, 'prometheus.yml'), config);
    const checked = tool('check', 'config', join(folder, 'prometheus.yml'));
    expect([checked.status, checked.stderr]).toEqual([0, '']);
    const url = `127.0.0.1:${await freePort()}`;
    const prometheus = spawn(
      'prometheus',
      [
        `--config.file=${join(folder, 'prometheus.yml')}`,
        `--storage.tsdb.path=${join(folder, 'series')}`,
        `--web.console.templates=${join(folder, 'consoles')}`,
        `--web.console.libraries=${join(folder, 'consoles')}`,
        `--web.listen-address=${url}`,
      ],
      { stdio: 'ignore' },
    );
    const ended = new Promise((done) => prometheus.once('exit', done));
    onTestFinished(async () => {
      prometheus.kill('SIGTERM');
      await ended;
    });
    const asked = async (path: string): Promise<string> =>
      fetch(`http://${url}${path}`, { headers: { connection: 'close' } }).then(
        (response) => response.text(),
        () => '',
      );
    const until = async (path: string, says: string): Promise<string> => {
      for (let tries = 0; tries < 120; tries += 1) {
        const text = await asked(path);
        if (text.includes(says)) return text;
        await new Promise((later) => setTimeout(later, 500));
      }
      throw new Error(`${path} never said ${says}: ${(await asked(path)).slice(0, 2000)}`);
    };
    const page = await until('/consoles/stanchion.html', `Stanchion ${VERSION} on `);
    expect(page).toContain('It is ready.');
    for (const row of ['<th>set-aside</th><td>0</td>', '<th>not-sent</th>', '<th>folder</th><td>well</td>'])
      expect(page).toContain(row);
    const rules = JSON.parse(await asked('/api/v1/rules')) as {
      data: { groups: { rules: { name: string; health: string }[] }[] };
    };
    const names = rules.data.groups.flatMap((group) => group.rules.map(({ name }) => name));
    expect(names).toEqual([...readFileSync(RULES, 'utf8').matchAll(/alert: (\w+)/g)].map(([, name]) => name));
    // No rule and no cell asks for a figure that the program does not give.
    const figures = await fetch(`${serving.url}/metrics`, {
      headers: { authorization: `Bearer ${secret}`, connection: 'close' },
    });
    const given = namesIn(await figures.text());
    for (const file of ['stanchion.rules.yml', 'stanchion.html'])
      for (const name of namesIn(readFileSync(join(FOLDER, file), 'utf8'))) expect(given).toContain(name);
    expect(await serving.stop()).toBe(0);
  },
  180_000,
);
