import { Decoder, Stream } from '@garmin/fitsdk';
import { describe, expect, it } from 'vitest';
import { FitWriter, fitCrc, fitTime, type Layout, semicircles } from '../../samples/fitWriter.js';

const bytesOf = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex.replaceAll(' ', ''), 'hex'));

const FILE_ID: Layout = {
  global: 0,
  fields: [
    [0, 'enum'],
    [1, 'uint16'],
    [4, 'uint32'],
  ],
};

describe('fitCrc', () => {
  it.each([
    ['a header of the official FIT kit’s own tests', bytesOf('0E208B08240000002E464954'), 0xa38e],
    [
      'header and data of a whole small file of those tests',
      bytesOf(
        '0E208B08240000002E4649548EA3 400000000004000100010284040486080A07 0004010000CA9A3B61626364656667686900',
      ),
      0xf25d,
    ],
    ['the check value of CRC-16/ARC', new TextEncoder().encode('123456789'), 0xbb3d],
  ])('gives the published value for %s', (_, bytes, crc) => {
    expect(fitCrc(bytes)).toBe(crc);
  });
});

describe('fitTime and semicircles', () => {
  it('count from the epoch of the official FIT kit, 631065600000 ms', () => {
    expect(fitTime(631_065_600_000)).toBe(0);
    expect(fitTime(Date.parse('2021-09-08T01:46:40Z'))).toBe(1_000_000_000);
  });

  it('agree with the vectors of an open FIT library’s tests', () => {
    expect(semicircles(-7.703012935817242)).toBe(-91_900_524);
    expect(semicircles(110.6064139958471)).toBe(1_319_585_919);
  });
});

describe('FitWriter', () => {
  it('writes what the official decoder reads back, a missing value being absent', () => {
    const writer = new FitWriter();
    writer.write(FILE_ID, [4, 255, 1_000_000_000]);
    writer.write(FILE_ID, [4, null, 1_000_000_001]);
    const bytes = writer.finish();
    const decoder = new Decoder(Stream.fromByteArray([...bytes]));
    expect(decoder.checkIntegrity()).toBe(true);
    const { messages, errors } = decoder.read();
    expect(errors).toEqual([]);
    expect(messages.fileIdMesgs).toEqual([
      expect.objectContaining({
        type: 'activity',
        manufacturer: 'development',
        timeCreated: new Date('2021-09-08T01:46:40Z'),
      }),
      { type: 'activity', timeCreated: new Date('2021-09-08T01:46:41Z') },
    ]);
  });

  it('refuses values that do not fit the layout', () => {
    expect(() => new FitWriter().write(FILE_ID, [4])).toThrow(RangeError);
  });

  it('refuses a seventeenth kind of message', () => {
    const writer = new FitWriter();
    for (let i = 0; i < 16; i += 1) writer.write({ ...FILE_ID }, [4, 255, i]);
    expect(() => writer.write({ ...FILE_ID }, [4, 255, 16])).toThrow(RangeError);
  });

  it('grows past its first room', () => {
    const writer = new FitWriter();
    for (let i = 0; i < 20_000; i += 1) writer.write(FILE_ID, [4, 255, i]);
    const decoder = new Decoder(Stream.fromByteArray([...writer.finish()]));
    expect(decoder.checkIntegrity()).toBe(true);
  });
});
