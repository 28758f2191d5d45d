import type { Chance } from '../../samples/seeded.js';
import { LINK_PURPOSES } from '../../src/core/links.js';
import { oneIn, pick, upTo } from './dice.js';

const ODD_PIECES = ['', '0', '.', '..', '%', '\u0000', '‮', '__proto__', 'x'.repeat(3000), 'é', '/', '\r\n'];

export interface LinkInput {
  readonly purpose: string;
  readonly token: string;
  readonly isPost: boolean;
}

/** Returns a link that is nearly one of those given: of another purpose, of pieces of two, or with letters changed. */
export function linkInput(chance: Chance, links: readonly Omit<LinkInput, 'isPost'>[]): LinkInput {
  const tokens = links.map((link) => link.token);
  const link = pick(chance, links);
  let { token } = link;
  for (let left = upTo(chance, 4); left > 0; left -= 1) token = changed(chance, token, tokens);
  const other = oneIn(chance, 10) ? pick(chance, ODD_PIECES) : pick(chance, LINK_PURPOSES);
  const purpose = oneIn(chance, 2) ? link.purpose : other;
  return { purpose, token, isPost: oneIn(chance, 2) };
}

function changed(chance: Chance, token: string, tokens: readonly string[]): string {
  const at = upTo(chance, token.length + 1);
  const pieces = token.split('.');
  const others = pick(chance, tokens).split('.');
  switch (upTo(chance, 6)) {
    case 0:
      return token.slice(0, at) + pick(chance, [...'0123456789abcdefz.A']) + token.slice(at + 1);
    case 1:
      return token.slice(0, at);
    case 2:
      return token.slice(0, at) + pick(chance, ODD_PIECES) + token.slice(at);
    case 3:
      return pieces.map((piece, i) => (oneIn(chance, 3) ? (others[i] ?? piece) : piece)).join('.');
    case 4:
      return [
        ...pieces.slice(0, -1),
        pick(chance, ['0'.repeat(32), others.at(-1) ?? '', 'f'.repeat(32)]),
      ].join('.');
    default:
      return pieces.filter(() => !oneIn(chance, 6)).join('.');
  }
}
