import { describe, expect, it } from 'vitest';
import { shownName, unsafeNameReason } from '../../src/files/shownName.js';

describe('shownName', () => {
  it('escapes what cannot be seen or turns the text around, and nothing else', () => {
    expect(shownName('ride\u202Etif.exe\n\u0000')).toBe('ride\\u{202e}tif.exe\\u{a}\\u{0}');
    expect(shownName('Manhã – 山 🚵.fit')).toBe('Manhã – 山 🚵.fit');
  });
});

describe('unsafeNameReason', () => {
  it('finds names that lead out of the archive or hide what they are', () => {
    for (const name of ['../a', 'a/../../b', '/etc/a', 'C:/a', 'a\\b', 'a\u202eb', 'a\u0007', '..']) {
      expect(unsafeNameReason(name), name).not.toBeNull();
    }
  });

  it('lets odd names be', () => {
    for (const name of ['a/b.fit', '..a.fit', 'a..b', 'ride (2).FIT.bak', 'café 🚵', 'x/...']) {
      expect(unsafeNameReason(name), name).toBeNull();
    }
  });
});
