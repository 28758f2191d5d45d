import { describe, expect, it } from 'vitest';
import { localName, XmlNamespaces } from '../../../src/files/xml/xmlNamespaces.js';

// Source: Namespaces in XML 1.0 (Third Edition), W3C; the sections are named beside each.
describe('namespaces of elements', () => {
  it('gives the default to what has no prefix, from its declaration to its end (6.2)', () => {
    const names = new XmlNamespaces();
    expect(names.open('gpx', {})).toBe('');
    expect(names.open('trk', { xmlns: 'urn:a' })).toBe('urn:a');
    expect(names.open('name', {})).toBe('urn:a');
    expect(names.open('note', { xmlns: '' })).toBe('');
    names.close();
    names.close();
    names.close();
    expect(names.open('trk', {})).toBe('');
  });

  it('looks a prefix up in the element itself first, whatever the order of its attributes (6.1)', () => {
    const names = new XmlNamespaces();
    expect(names.open('x:gpx', { 'x:lang': 'en', 'xmlns:x': 'urn:a' })).toBe('urn:a');
    expect(names.open('x:trk', { 'xmlns:x': 'urn:b' })).toBe('urn:b');
    names.close();
    expect(names.open('x:trk', {})).toBe('urn:a');
    expect([...names.undeclared]).toEqual([]);
  });

  it('knows xml and xmlns without a declaration (3)', () => {
    const names = new XmlNamespaces();
    names.open('gpx', { 'xml:lang': 'en', 'xmlns:y': 'urn:y' });
    expect(names.open('xml:a', {})).toBe('http://www.w3.org/XML/1998/namespace');
    expect([...names.undeclared]).toEqual([]);
  });

  it('names each prefix that was never declared, of elements and of attributes', () => {
    const names = new XmlNamespaces();
    expect(names.open('gpx', { 'xsi:schemaLocation': 'a', xmlnsi: 'b' })).toBe('');
    expect(names.open('tpx:hr', {})).toBe('undeclared:tpx');
    expect(names.open('tpx:hr', {})).toBe('undeclared:tpx');
    expect([...names.undeclared]).toEqual(['xsi', 'tpx']);
  });

  it('takes the prefix off a name', () => {
    expect([localName('gpx'), localName('x:gpx')]).toEqual(['gpx', 'gpx']);
  });
});
