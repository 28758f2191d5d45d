import { describe, expect, it } from 'vitest';
import { isKnownEncoding, xmlChunks, xmlEncodingOf, xmlStartOf } from '../../../src/files/xml/xmlText.js';
import { textBytes } from '../../fixtures/gpxFile.js';

const read = (bytes: Uint8Array) => [...xmlChunks(bytes, xmlEncodingOf(bytes))].join('');
const utf16 = (text: string, mark: boolean) =>
  Uint8Array.from(Buffer.from(`${mark ? '\ufeff' : ''}${text}`, 'utf16le'));
const swapped = (bytes: Uint8Array) => Uint8Array.from(Buffer.from(bytes).swap16());

describe('xmlChunks', () => {
  it('decodes by the mark of byte order, by the first bytes, and as declared', () => {
    const text = '<gpx name="é"/>';
    expect(read(textBytes(`\ufeff${text}`))).toBe(text);
    for (const mark of [true, false]) {
      expect(read(utf16(text, mark))).toBe(text);
      expect(read(swapped(utf16(text, mark)))).toBe(text);
    }
    const latin = '<?xml version="1.0" encoding="ISO-8859-1"?><a>é</a>';
    expect(read(Uint8Array.from(Buffer.from(latin, 'latin1')))).toBe(latin);
  });

  it('does not believe a declaration of two bytes a character in a text of one', () => {
    const text = '<?xml version="1.0" encoding="utf-16"?><a>é</a>';
    expect(read(textBytes(text))).toBe(text);
  });

  it('leaves out white space before the first tag, and keeps characters whole across pieces', () => {
    const text = `<a>${'é€😀'.repeat(40_000)}</a>`;
    const chunks = [...xmlChunks(textBytes(` \n\t${text}`), 'utf-8')];
    expect(chunks.length).toBeGreaterThan(3);
    expect(chunks.join('')).toBe(text);
  });

  it('knows which encodings it can decode', () => {
    expect([isKnownEncoding('windows-1252'), isKnownEncoding('no-such-thing')]).toEqual([true, false]);
  });
});

describe('xmlStartOf', () => {
  const start = (text: string) => xmlStartOf(textBytes(text));

  it('finds the root element behind declaration, comments and instructions', () => {
    const text = '<?xml version="1.0"?><!-- <gpx> --><?style x?>\n<!-- -- --><n:gpx version="1.1">';
    expect(start(text)).toEqual({ root: 'gpx', entities: false });
    expect(start('<html>')).toEqual({ root: 'html', entities: false });
    expect(start('no xml <gpx>')).toEqual({ root: null, entities: false });
  });

  it('passes over a plain document type, and tells one that can define entities', () => {
    expect(start('<!DOCTYPE html><html>')).toEqual({ root: 'html', entities: false });
    for (const text of [
      '<!DOCTYPE gpx SYSTEM "x"><gpx>',
      '<!DOCTYPE a [<!ENTITY b "c">]><a>',
      '<!doctype a [',
    ]) {
      expect(start(text).entities, text).toBe(true);
    }
  });

  it('finds what begins at any place of the first kilobytes', () => {
    for (let before = 980; before < 1060; before += 1)
      for (const text of [
        '<gpx version="1.1">',
        '<!DOCTYPE a><n:gpx>',
        '<!DOCTYPE a [<gpx>',
        '<!-- <a> --><gpx>',
      ])
        expect(start(' '.repeat(before) + text), `${before} ${text}`).toEqual(start(text));
    expect(start(`<!-- ${'<a> '.repeat(5000)} --><gpx>`)).toEqual({ root: 'gpx', entities: false });
  });

  it('answers at once however many comments there are', () => {
    expect(start('<!-- a -->'.repeat(5000)).root).toBeNull();
    expect(start('<!--'.repeat(10_000)).root).toBeNull();
  });
});
