import { expect, test } from 'vitest';
import { wordsFor } from '../../../src/languages/index.js';
import { refusalText } from '../../../src/languages/refusals.js';
import { day } from '../../../src/units.js';

const said = (refusal: string, of: object): string =>
  refusalText(
    { refusal, values: [of] },
    { words: wordsFor('pt'), today: day('2026-06-10'), zone: 'Europe/Lisbon' },
  );

test('days are those of the workshop’s zone, as people say them', () => {
  // Midnight of 1 May in Lisbon, by its summer time, is 23:00 of 30 April in UTC.
  const span = { from: '2026-04-30T23:00:00Z', to: null };
  expect(said('is-elsewhere', { tag: 'F-1', bike: 'b1', span })).toMatch(
    /^F-1 está na bicicleta b1 desde 1 de maio\. Retire-a primeiro, ou troque as duas unidades. Se esse dia está errado/,
  );
  expect(said('no-place', { day: '2026-06-14', free: ['2026-06-16', '2026-06-17'] })).toBe(
    'Não há lugar nesse dia, domingo, 14 de junho: está fechado ou cheio. Dias livres: terça-feira, 16 de junho; quarta-feira, 17 de junho.',
  );
});
