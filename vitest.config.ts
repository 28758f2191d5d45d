import { defineConfig } from 'vitest/config';

const isCi = process.env.CI !== undefined;

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    maxWorkers: 2,
    reporters: isCi ? ['default', ['json', { outputFile: 'test-report.json' }]] : ['default'],
  },
});
