/** With --json a failure is one line that a script can read, whatever failed. */
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

test.each([
  ['an unknown command', ['no-such-command'], 2, 'wrong-use'],
  ['a missing argument', ['story'], 2, 'wrong-use'],
  ['a time that is none', ['due', '--now', 'noon'], 2, 'wrong-use'],
  ['no ledger', ['due'], 1, 'refused'],
  ['no such file', ['import', 'no-such-file.json'], 1, 'not-found'],
])('%s', async (_name, args, status, code) => {
  const ran = await runHere([...args, '--json', '--data', join(scratchFolder(), 'data')]);
  expect(ran.status).toBe(status);
  expect(ran.rows).toMatchObject([{ error: { code, message: expect.stringMatching(/\w/) } }]);
  expect(Object.keys(ran.rows[0]!.error as object)).toEqual(['code', 'message', 'hint']);
});
