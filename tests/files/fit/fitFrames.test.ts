import { describe, expect, it } from 'vitest';
import { walkFrames } from '../../../src/files/fit/fitFrames.js';
import { splitFitParts } from '../../../src/files/fit/fitParts.js';
import { FitFile } from '../../fixtures/fitFile.js';

const walk = (file: FitFile, cut = 0) => {
  const { bytes, headerSize } = splitFitParts(file.bytes()).parts[0]!;
  const seen: [message: number, time: number][] = [];
  const end = walkFrames(bytes.subarray(0, bytes.length - cut), headerSize, {
    definition: () => {},
    data: (layout, _from, _to, time) => seen.push([layout.message, time]),
  });
  return { seen, end };
};

describe('walkFrames', () => {
  it('follows definitions in both byte orders, developer fields passed over', () => {
    const file = new FitFile()
      .message(20, [[253, 'uint32', 1000]], { developer: [[0, 'uint32', 7]] })
      .message(20, [[253, 'uint32', 1001]], { bigEndian: true, local: 1 })
      .again([[253, 'uint32', 1002]], { bigEndian: true, local: 1 });
    expect(walk(file)).toEqual({
      seen: [
        [20, 1000],
        [20, 1001],
        [20, 1002],
      ],
      end: 'whole',
    });
  });

  it('takes the time of a compressed header from the message before, of whatever kind', () => {
    const file = new FitFile()
      .message(21, [[253, 'uint32', 1024]])
      .message(20, [[6, 'uint16', 5]], { local: 2, compressed: 3 })
      .again([[6, 'uint16', 5]], { local: 2, compressed: 1 });
    expect(walk(file).seen).toEqual([
      [21, 1024],
      [20, 1027],
      [20, 1057],
    ]);
  });

  it('gives no time where there is none', () => {
    expect(walk(new FitFile().message(20, [[253, 'uint32', 0xffffffff]])).seen).toEqual([[20, Number.NaN]]);
  });

  it('tells an end inside a message from bytes that mean nothing', () => {
    const file = new FitFile().message(20, [[253, 'uint32', 1000]]);
    expect(walk(file, 2)).toEqual({ seen: [], end: 'inside' });
    expect(walk(file.raw(0x0f, 1, 2))).toEqual({ seen: [[20, 1000]], end: 'lost' });
  });
});
