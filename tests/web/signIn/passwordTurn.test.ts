import { expect, test } from 'vitest';
import { FIRST, passwordTurn } from '../../../src/web/signIn/passwordTurn.js';

test('in a flood of tries who is known goes first, then who tried least, and of those who came last', async () => {
  let begin = (): void => {};
  const held = new Promise<void>((resolve) => {
    begin = resolve;
  });
  const ran: string[] = [];
  const turn = (name: string, tries: number) => passwordTurn(async () => void ran.push(name), tries);
  const all = [passwordTurn(() => held, 0)];
  for (let i = 0; i < 200; i++) all.push(turn(`flood ${i}`, i % 3) as Promise<void>);
  const owner = turn('owner', 0);
  const known = turn('known', FIRST);
  begin();
  await Promise.all([...all, owner, known]);
  expect(ran.slice(0, 3)).toEqual(['known', 'owner', 'flood 198']);
  expect(ran).toHaveLength(64);
});
