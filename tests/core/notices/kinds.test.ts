import { expect, test } from 'vitest';
import { kindOf, NOTICE_KINDS } from '../../../src/core/notices/kinds.js';
import { TOLD_STATES } from '../../../src/core/states.js';
import { OCCASIONS } from '../../../src/core/tokens.js';

test('every state that is told, and every occasion of its own, is of one kind', () => {
  const notices = [
    ...TOLD_STATES.map((state) => ({ state, occasion: 'first' as const })),
    ...OCCASIONS.slice(3).map((occasion) => ({ state: null, occasion })),
  ];
  for (const notice of notices)
    expect(NOTICE_KINDS.filter((kind) => kind.isOne(notice)).map(({ name }) => name)).toHaveLength(1);
  expect(() => kindOf({ state: 'in-time', occasion: 'first' })).toThrow(RangeError);
});

test('a kind tells by its slot, and every name is one kind’s', () => {
  expect(new Set(NOTICE_KINDS.map(({ name }) => name)).size).toBe(NOTICE_KINDS.length);
  for (const { slot } of NOTICE_KINDS) expect(slot.sharesDay).toContain(slot.mail);
});
