import { describe, expect, it } from 'vitest';
import { unsafeNameReason } from '../../../src/files/archives/unsafeName.js';

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
