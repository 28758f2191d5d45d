import { expect, test } from 'vitest';
import { renderStopRiding } from '../../src/mail/stopRiding.js';
import { stopped } from './mailSamples.js';

/** On one line, without the marks of a warning. */
const plain = (text: string): string => text.replace(/^! (- | {2})?/gm, '').replace(/\s+/g, ' ');

test('says which part of which bike, why, and whom to call; no hours, no date, no page', () => {
  const { subject, text, html } = renderStopRiding(stopped);
  expect(subject).toBe('Do not ride Moss Hopper: have its fork checked');
  const said = plain(text);
  expect(said).toContain(
    'Please do not ride Moss Hopper. Its fork (F-0412, Nonesuch 140) has to be checked first.',
  );
  expect(said).toContain('Why: a crack at the crown, seen at the race');
  expect(said).toContain('phone +000 555 0100');
  expect(said).toContain('Open Tuesday to Saturday, 10 to 18');
  const [before = ''] = said.split(' -- ');
  expect(before).not.toMatch(/\bh\b|hours|left|likely|guess|https|Stop these reminders|2025/);
  expect([...html.matchAll(/href="([^"]*)"/g)].map(([, href]) => href)).toEqual(['tel:+0005550100']);
});

test('tells the workshop whose it is, why, and the rider’s phone', () => {
  const { subject, text, html } = renderStopRiding({ ...stopped, rider: null });
  expect(subject).toBe('Stop riding: Ada Madeup, Moss Hopper, fork');
  expect(plain(text)).toContain('Ada Madeup’s phone: +000 555 0199');
  expect(html).toContain('tel:+0005550199');
  const [unit] = stopped.units;
  const boxed = renderStopRiding({ ...stopped, rider: null, units: [{ ...unit!, bike: null, rider: null }] });
  expect(boxed.subject).toBe('Stop riding: F-0412, fork');
  const two = renderStopRiding({ ...stopped, rider: null, units: [unit!, { ...unit!, tag: 'F-0413' }] });
  expect(two.subject).toBe('Stop riding: Ada Madeup, Moss Hopper, fork, and 1 more');
});

test('speaks the rider’s language, and refuses to be about nothing', () => {
  const { text } = renderStopRiding({ ...stopped, rider: { name: 'Rita', language: 'pt' } });
  expect(plain(text)).toContain('Por favor não ande com Moss Hopper');
  expect(() => renderStopRiding({ ...stopped, units: [] })).toThrow(RangeError);
});
