import { hasUnseen } from '../core/lines.js';
import { type Problem, problem } from '../problems.js';

const octets = (text: string): number => Buffer.byteLength(text, 'utf8');

/** Dot-separated words without quoting; quoted local parts exist on paper only, and invite injection. */
const LOCAL_PART = /^[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*$/;
const DOMAIN_WORD = /^[\p{L}\p{N}]([\p{L}\p{N}-]{0,61}[\p{L}\p{N}])?$/u;

const isDomain = (domain: string): boolean => {
  const parts = domain.split('.');
  return parts.length >= 2 && parts.every((part) => DOMAIN_WORD.test(part));
};

/**
 * Returns what is wrong with a mail address, or null where a mail can be tried.
 * Source: RFC 5321 4.5.3.1: local part 64 octets, path 256 with its brackets, so an address 254.
 */
export const addressProblem = (address: string): Problem | null => {
  const wrong = (message: string): Problem => problem('mail-address', message, 'mail address', address);
  if (hasUnseen(address))
    return problem(
      'mail-address',
      'The mail address holds a line break or a hidden character: type it again.',
      'mail address',
    );
  const at = address.lastIndexOf('@');
  const [local, domain] = [address.slice(0, Math.max(at, 0)), address.slice(at + 1)];
  if (at < 1 || domain === '')
    return wrong('A mail address has a name, an @ and a domain: name@example.org.');
  if (octets(local) > 64)
    return wrong('The part before the @ is longer than 64 characters: no mail server takes it.');
  if (octets(address) > 254)
    return wrong('The mail address is longer than 254 characters: no mail server takes it.');
  if (!LOCAL_PART.test(local)) return wrong('The part before the @ holds a character that cannot be there.');
  if (!isDomain(domain)) return wrong('The part after the @ is not a domain such as example.org.');
  return null;
};
