import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { ServiceError } from '../src/errors.js';
import { openLog } from '../src/log.js';

beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] }));
afterEach(() => void vi.useRealTimers());

function written() {
  const lines: Record<string, unknown>[] = [];
  const log = openLog('info', { write: (line: string) => void lines.push(JSON.parse(line)) });
  return { log, lines };
}

const full = (path: string): ServiceError =>
  new ServiceError('disk-failed', 'The file could not be kept.', {
    cause: Object.assign(new Error(`ENOSPC: no space left on device, open '${path}'`), {
      code: 'ENOSPC',
      path,
    }),
  });

it('an error has its cause and its code, and the name of the file in it is a mark', () => {
  const { log, lines } = written();
  log.error({ loop: 'folder', error: full('/data/inbox/anna/home to Lantern Street.gpx') }, 'a step failed');
  expect(lines).toMatchObject([
    {
      loop: 'folder',
      msg: 'a step failed',
      error: {
        code: 'disk-failed',
        message: 'The file could not be kept.',
        cause: { code: 'ENOSPC', message: expect.stringMatching(/^ENOSPC: .*, open 'file [0-9a-f]{8}'$/) },
      },
    },
  ]);
  expect(JSON.stringify(lines)).not.toMatch(/anna|Lantern/);
});

it('the same fault is written once, then counted, and another is written at once', () => {
  const { log, lines } = written();
  for (let i = 0; i < 28; i++) log.error({ loop: 'folder', error: full('/data/a') }, 'a step failed');
  log.error({ loop: 'backup', error: full('/data/a') }, 'a step failed');
  expect(lines.map(({ loop }) => loop)).toEqual(['folder', 'backup']);
  vi.advanceTimersByTime(10 * 60_000);
  expect(lines.slice(2)).toMatchObject([{ msg: 'again: a step failed', times: 27, fault: lines[0]!.fault }]);
  // It still goes on, and is still only counted; once it has ended there is nothing to tell.
  log.error({ loop: 'folder', error: full('/data/a') }, 'a step failed');
  vi.advanceTimersByTime(10 * 60_000);
  expect(lines.slice(3)).toMatchObject([{ times: 1 }]);
  vi.advanceTimersByTime(60 * 60_000);
  expect(lines).toHaveLength(4);
  // What comes after it had ended is news again.
  log.error({ loop: 'folder', error: full('/data/a') }, 'a step failed');
  expect(lines[4]).toMatchObject({ msg: 'a step failed' });
});

it('what was thrown and is no error is told too, and a command logs faults alone', () => {
  const { log, lines } = written();
  log.error({ error: 'a word' }, 'it failed');
  expect(lines[0]).toMatchObject({ error: { message: 'a word' } });
  const some: string[] = [];
  const quiet = openLog('error', { write: (line: string) => void some.push(line) });
  quiet.info({}, 'done');
  quiet.error({}, 'not done');
  expect(some).toHaveLength(1);
});
