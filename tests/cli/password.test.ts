import { expect, it } from 'vitest';
import { askTwice } from '../../src/cli/password.js';

it('a password that is typed unseen is typed twice, and two that differ are refused', async () => {
  const typed = (...answers: string[]) => {
    const asked: string[] = [];
    const ask = async (prompt: string): Promise<string> => {
      asked.push(prompt);
      return answers[asked.length - 1]!;
    };
    return { asked, ask };
  };
  const same = typed('four plain words here', 'four plain words here');
  expect(await askTwice('pit', same.ask)).toBe('four plain words here');
  expect(same.asked).toEqual(['New password for pit: ', 'The same once more: ']);
  await expect(askTwice('pit', typed('four plain words', 'four plain word').ask)).rejects.toThrow(
    'The two passwords differ. Nothing was changed.',
  );
});
