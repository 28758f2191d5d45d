import { defineConfig } from 'vitest/config';
import { programFolder } from './tests/postgres/server.js';

const isCi = process.env.CI !== undefined;
/** Without a server's programs its tests are left out by hand, and fail in CI. */
const hasServer = isCi || programFolder() !== null;
if (!hasServer) process.stderr.write('Left out: the tests on PostgreSQL, which is not installed here.\n');

const common = {
  ...{ testTimeout: 60_000, hookTimeout: 60_000 },
  // What is looked at until it is so may take as long as a busy machine needs.
  expect: { poll: { timeout: 20_000 } },
  // The built program is loaded as it is.
  server: { deps: { external: [/\/dist\//] } },
  // Only what waited in vain for the browser, on a machine that others load too, is tried once more: its line says "retry x1".
  ...(isCi ? { retry: { count: 1, condition: /(locator|page)\.\w+: Timeout \d+ms exceeded/ } } : {}),
};

/** Tests of pure rooms. */
const PURE = ['tests/{core,standards}/**/*.test.ts'];
/** What changes its own process for whoever comes after it: modules put in the place of others, a browser's globals. */
const ALONE = [
  'tests/attacks/secrets.test.ts',
  'tests/languages/invented.test.ts',
  'tests/real/gpxFiles.test.ts',
];

export default defineConfig({
  test: {
    // More than the two cores that CI has: programs that are started, killed and waited for leave them idle.
    maxWorkers: 3,
    reporters: isCi ? ['default', ['json', { outputFile: 'test-report.json' }]] : ['default'],
    // A test cleans up behind itself, so those of a project share their modules: loading them was half the time of most.
    projects: [
      {
        test: {
          ...common,
          name: 'file',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/postgres/**', ...PURE, ...ALONE],
          isolate: false,
        },
      },
      { test: { ...common, name: 'alone', include: ALONE } },
      { test: { ...common, name: 'pure', include: PURE, isolate: false } },
      // The same tests once more, each store on a server, but for slow ones of files, exports and clocks; and the server's own.
      ...(hasServer
        ? [
            {
              test: {
                ...common,
                name: 'server',
                include: [
                  'tests/{flow,postgres}/**/*.test.ts',
                  'tests/store/noticeOnce.test.ts',
                  'tests/web/{bike,due,leads,riders,today}/*.test.ts',
                  'tests/web/team.test.ts',
                ],
                exclude: [
                  'tests/flow/{take,carry}/{badInput,counted,exportLedger,scanInbox,strangeFiles}.test.ts',
                  'tests/flow/bells.test.ts',
                  'tests/flow/mail/season/*.test.ts',
                ],
                isolate: false,
                globalSetup: ['tests/postgres/globalSetup.ts'],
              },
            },
          ]
        : []),
    ],
  },
});
