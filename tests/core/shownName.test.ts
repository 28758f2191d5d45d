import { describe, expect, it } from 'vitest';
import { shownName } from '../../src/core/shownName.js';

describe('shownName', () => {
  it('escapes what cannot be seen or turns the text around, and nothing else', () => {
    expect(shownName('ride\u202Etif.exe\n\u0000')).toBe('ride\\u{202e}tif.exe\\u{a}\\u{0}');
    expect(shownName('Manhã – 山 🚵.fit')).toBe('Manhã – 山 🚵.fit');
  });
});
