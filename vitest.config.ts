import { defineConfig } from 'vitest/config';
import { programFolder } from './tests/postgres/server.js';

const isCi = process.env.CI !== undefined;
/** Without a server's programs its tests are left out by hand, and fail in CI. */
const hasServer = isCi || programFolder() !== null;
if (!hasServer) process.stderr.write('Left out: the tests on PostgreSQL, which is not installed here.\n');

const common = { testTimeout: 60_000, hookTimeout: 60_000 };

/** Tests of pure rooms, which need no process of their own. */
const PURE = ['tests/{core,standards}/**/*.test.ts'];

export default defineConfig({
  test: {
    // More than the two cores that CI has: programs that are started, killed and waited for leave them idle.
    maxWorkers: 3,
    reporters: isCi ? ['default', ['json', { outputFile: 'test-report.json' }]] : ['default'],
    projects: [
      {
        test: {
          ...common,
          name: 'file',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/postgres/**', ...PURE],
        },
      },
      // What neither keeps nor changes anything outside itself shares its modules: loading them was half its time.
      { test: { ...common, name: 'pure', include: PURE, isolate: false } },
      // The same tests once more, each store on a server, but for slow ones of files and exports; and the server's own.
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
                exclude: ['tests/flow/{take,carry}/{badInput,counted,exportLedger,scanInbox}.test.ts'],
                globalSetup: ['tests/postgres/globalSetup.ts'],
              },
            },
          ]
        : []),
    ],
  },
});
