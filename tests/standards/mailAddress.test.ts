import { describe, expect, it } from 'vitest';
import { addressProblem } from '../../src/mail/address.js';

/** An address of so many octets, its local part short. */
const addressOf = (octets: number): string => {
  const words = `${'d'.repeat(60)}.`.repeat(4);
  return `a@${words}${'e'.repeat(octets - 2 - words.length)}`;
};

describe('RFC 5321 4.5.3.1, lengths', () => {
  it('takes a local part of 64 octets, and not of 65', () => {
    expect(addressProblem(`${'a'.repeat(64)}@example.org`)).toBeNull();
    expect(addressProblem(`${'a'.repeat(65)}@example.org`)?.message).toContain('64');
  });

  it('takes an address of 254 octets (a path of 256 with its brackets), and not of 255', () => {
    expect(addressOf(254)).toHaveLength(254);
    expect(addressProblem(addressOf(254))).toBeNull();
    expect(addressProblem(addressOf(255))?.message).toContain('254');
  });

  it('counts octets, not letters', () => {
    const address = `a@${'é'.repeat(60)}.${'é'.repeat(60)}.org`;
    expect(address.length).toBeLessThan(254);
    expect(addressProblem(address)).toBeNull();
    expect(addressProblem(`a@${'é'.repeat(60)}.${'é'.repeat(60)}.${'é'.repeat(10)}.org`)?.message).toContain(
      '254',
    );
  });
});
