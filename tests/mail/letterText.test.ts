import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { WrittenLetter } from '../../src/mail/letter.js';
import { letterText } from '../../src/mail/letterText.js';

const letter: WrittenLetter = {
  language: 'en',
  subject: 's',
  sender: 'Bench',
  title: 't',
  blocks: [],
  signature: ['a', 'b'],
  footnotes: ['note'],
  stop: { label: 'Stop', href: 'https://bench.example.org/stop' },
};

it('writes lines of at most 76 signs, each word whole and in order', () => {
  fc.assert(
    fc.property(
      fc.array(fc.stringMatching(/^[a-zé🚲]{1,40}$/u), { minLength: 1, maxLength: 60 }),
      (words) => {
        const text = letterText({
          ...letter,
          blocks: [{ kind: 'list', title: null, items: [words.join(' ')] }],
        });
        expect(Math.max(...text.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(76);
        expect(text.split(/\s+/).slice(1, words.length + 1)).toEqual(words);
      },
    ),
  );
});

it('leaves a link whole however long it is', () => {
  const href = `https://bench.example.org/${'a'.repeat(300)}`;
  const text = letterText({
    ...letter,
    blocks: [{ kind: 'links', main: { label: 'Go', href }, others: [{ label: 'Wrong?', href }] }],
  });
  expect(text).toContain(`Go: ${href}\nWrong? ${href}\n`);
});

it('sets the signature off by its mark, and the way to stop the mails at the end', () => {
  expect(letterText(letter)).toBe('-- \nBench\na\nb\n\nnote\n\nStop: https://bench.example.org/stop\n');
});
