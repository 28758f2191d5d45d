import { describe, expect, it } from 'vitest';
import { FitFile, fitTime } from '../../fixtures/fitFile.js';
import { readRecordings } from '../reading.js';

const T = Date.UTC(2024, 4, 1, 9);
const activity = () => new FitFile().message(0, [[0, 'enum', 4]]);
const samplesOf = (file: FitFile) => readRecordings(file.bytes())[0]!.samples;

describe('record fields', () => {
  it('prefers the enhanced value, and takes the plain one where that is invalid', () => {
    const fields = (enhanced: number) =>
      [
        [253, 'uint32', fitTime(T)],
        [78, 'uint32', enhanced],
        [2, 'uint16', 7644],
        [73, 'uint32', enhanced === 0xffffffff ? enhanced : 6000],
        [6, 'uint16', 5000],
      ] as const;
    const samples = samplesOf(activity().message(20, fields(7000)).again(fields(0xffffffff)));
    expect([...samples.eleM]).toEqual([900, 1028.8]);
    expect([...samples.speedMps]).toEqual([6, 5]);
  });

  it('takes an invalid value as missing', () => {
    const samples = samplesOf(
      activity().message(20, [
        [253, 'uint32', fitTime(T)],
        [0, 'sint32', 0x7fffffff],
        [1, 'sint32', 1000],
        [2, 'uint16', 0xffff],
        [5, 'uint32', 0xffffffff],
        [6, 'uint16', 0xffff],
      ]),
    );
    for (const column of [samples.lat, samples.lon, samples.eleM, samples.distM, samples.speedMps]) {
      expect([...column]).toEqual([Number.NaN]);
    }
  });

  // Source: FIT SDK, profile, message record(20): heart_rate 3, cadence 4, power 7.
  it('reads heart, cadence and power, and leaves out what no rider has', () => {
    const { effort } = samplesOf(
      activity()
        .message(20, [
          [253, 'uint32', fitTime(T)],
          [2, 'uint16', 7644],
          [3, 'uint8', 142],
          [4, 'uint8', 0],
          [7, 'uint16', 310],
        ])
        .again([
          [253, 'uint32', fitTime(T + 1000)],
          [2, 'uint16', 7644],
          [3, 'uint8', 0],
          [4, 'uint8', 0xff],
          [7, 'uint16', 9000],
        ]),
    );
    expect([...effort!.heartBpm]).toEqual([142, Number.NaN]);
    expect([...effort!.cadenceRpm]).toEqual([0, Number.NaN]);
    expect([...effort!.powerW]).toEqual([310, Number.NaN]);
  });

  it('reads a field by the type it was written in', () => {
    const samples = samplesOf(
      activity().message(
        20,
        [
          [253, 'uint32', fitTime(T)],
          [2, 'uint32', 7644],
          [6, 'float32', 5000],
        ],
        { bigEndian: true },
      ),
    );
    expect([samples.eleM[0], samples.speedMps[0]]).toEqual([1028.8, 5]);
  });

  it('never lets a developer field stand in for a native one of the same name', () => {
    const description = [
      [0, 'uint8', 0],
      [1, 'uint8', 3],
      [2, 'uint8', 0x86],
      [3, 'string', 'distance'],
    ] as const;
    const file = activity()
      .message(206, description)
      .message(
        20,
        [
          [253, 'uint32', fitTime(T)],
          [5, 'uint32', 123_400],
        ],
        { developer: [[3, 'uint32', 7]] },
      );
    expect(samplesOf(file).distM[0]).toBe(1234);
  });

  it('drops a latitude beyond the pole and says so', () => {
    const [recording] = readRecordings(
      activity()
        .message(20, [
          [253, 'uint32', fitTime(T)],
          [0, 'sint32', 0x7ffffff0],
          [1, 'sint32', 5],
        ])
        .bytes(),
    );
    expect([recording!.samples.lat[0], recording!.samples.lon[0]]).toEqual([Number.NaN, Number.NaN]);
    expect(recording!.notes).toContainEqual({ code: 'position-out-of-range', count: 1 });
  });
});
