import { type AddressObject, simpleParser } from 'mailparser';
import type { MailFields } from '../core/mailedIn.js';

/** A mail of many addresses is of a list. */
const MOST_ADDRESSES = 200;
/** Headers in which a server writes down for whom it brought a mail. */
const BROUGHT_FOR = ['delivered-to', 'x-original-to', 'envelope-to', 'x-delivered-to'];

/** Returns what the head of a mail says. Whatever the bytes are, it is no fault. */
export async function fieldsOf(head: Uint8Array): Promise<MailFields> {
  const { from, to, cc, messageId, headerLines } = await simpleParser(Buffer.from(head), {
    ...{ skipHtmlToText: true, skipTextToHtml: true, skipImageLinks: true, skipTextLinks: true },
  });
  const valueIn = (key: string): string | null => {
    const line = headerLines.find((one) => one.key === key)?.line;
    return line === undefined ? null : unfolded(line.slice(line.indexOf(':') + 1));
  };
  const brought = headerLines
    .filter(({ key }) => BROUGHT_FOR.includes(key))
    .map(({ line }) => unfolded(line.slice(line.indexOf(':') + 1)).replace(/^<|>$/gu, ''));
  return {
    messageId: messageId?.replace(/^<|>$/gu, '') ?? null,
    from: addressesIn(from),
    to: [...addressesIn(to), ...addressesIn(cc), ...brought.map((one) => one.toLowerCase())],
    authentication: valueIn('authentication-results'),
    autoSubmitted: valueIn('auto-submitted'),
    precedence: valueIn('precedence'),
    returnPath: valueIn('return-path'),
    isOfList: ['list-id', 'list-unsubscribe', 'list-post'].some((key) => valueIn(key) !== null),
    isReport: /^multipart\/report\b/iu.test(valueIn('content-type') ?? ''),
  };
}

const unfolded = (text: string): string => text.replaceAll(/\r?\n[ \t]+/gu, ' ').trim();

function addressesIn(of: AddressObject | AddressObject[] | undefined): string[] {
  const found: string[] = [];
  const add = (all: AddressObject['value']): void => {
    for (const { address, group } of all) {
      if (found.length === MOST_ADDRESSES) return;
      if (address) found.push(address.toLowerCase());
      if (group) add(group);
    }
  };
  for (const one of [of ?? []].flat()) add(one.value);
  return found;
}
