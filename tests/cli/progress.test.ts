import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { startProgress, startTelling } from '../../src/cli/progress.js';

function screenOf(isTTY: boolean) {
  const written: string[] = [];
  const write = (text: string | Uint8Array): boolean => written.push(String(text)) > 0;
  return { written, screen: { isTTY, columns: 60, write } as unknown as NodeJS.WriteStream };
}

describe('the progress of many files', () => {
  it('is a bar on a terminal, which is gone at the end', () => {
    const { written, screen } = screenOf(true);
    const progress = startProgress('files', screen);
    progress.expect(4);
    progress.step('rides.zip/a\u001b[31m.fit');
    expect(written).toEqual(['\r\u001b[2K[#####...............] 1 of 4 files  rides.zip/a\\u{1b}[31m.']);
    progress.above(() => written.push('said'));
    progress.done();
    expect(written.slice(1)).toEqual(['\r\u001b[2K', 'said', '\r\u001b[2K']);
  });

  it('is a line every 500 elsewhere, and none for few', () => {
    const { written, screen } = screenOf(false);
    const progress = startProgress('files', screen);
    progress.expect(1200);
    for (let i = 0; i < 1200; i++) progress.step(`${i}`);
    progress.done();
    expect(written).toEqual(['500 of 1200 files\n', '1000 of 1200 files\n']);
  });

  it('is a line every half minute too, where few take long', () => {
    vi.useFakeTimers({ toFake: ['performance'] });
    onTestFinished(() => void vi.useRealTimers());
    const { written, screen } = screenOf(false);
    const progress = startProgress('files', screen);
    progress.expect(10);
    for (let i = 0; i < 7; i++) {
      vi.advanceTimersByTime(10_000);
      progress.step(`${i}`);
    }
    expect(written).toEqual(['3 of 10 files\n', '6 of 10 files\n']);
  });

  it('never says more than there are, where archives held more than they listed', () => {
    const { written, screen } = screenOf(true);
    const progress = startProgress('files', screen);
    progress.step('x');
    expect(written[0]).toContain('[####################] 1 of 1 files');
  });
});

describe('what is left of a long step', () => {
  it('stands on a terminal at once, and elsewhere every half minute', async () => {
    vi.useFakeTimers({ toFake: ['performance'] });
    onTestFinished(() => void vi.useRealTimers());
    const [watched, logged] = [screenOf(true), screenOf(false)];
    const both = [startTelling(undefined, watched.screen), startTelling(undefined, logged.screen)];
    for (let left = 8; left > 0; left -= 1) {
      for (const one of both) await one.told('counting units again', left);
      vi.advanceTimersByTime(10_000);
    }
    for (const one of both) one.done();
    expect(watched.written[0]).toBe('\r\u001b[2Kcounting units again: 8 left');
    expect(watched.written.at(-1)).toBe('\r\u001b[2K');
    expect(logged.written).toEqual(['counting units again: 5 left\n', 'counting units again: 2 left\n']);
  });
});
