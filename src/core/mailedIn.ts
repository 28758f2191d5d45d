/** Rides that come by mail: whose they are, by the address they were sent to or by whom they come from. */

/** What the head of a mail says, as it stands there. Addresses are in small letters. */
export interface MailFields {
  /** Without its brackets; null where there is none. */
  readonly messageId: string | null;
  readonly from: readonly string[];
  /** Everybody that it was sent to, or brought for. */
  readonly to: readonly string[];
  /** The topmost Authentication-Results: what the server that took it found out. */
  readonly authentication: string | null;
  readonly autoSubmitted: string | null;
  readonly precedence: string | null;
  /** `<>` of a bounce; null where it is not said. */
  readonly returnPath: string | null;
  readonly isOfList: boolean;
  /** Of a kind that tells of other mails. */
  readonly isReport: boolean;
}

/** A rider’s own address for rides, as far as it says whose it is. */
export interface RidesToken {
  readonly riderId: string;
  readonly mark: string;
}

/** Signs of a mark that an address carries: short enough to be copied, and too many to guess. */
const MARK_SIGNS = 24;

/** Returns the text that is signed; another turn of the epoch makes an address void. */
export const ridesText = (workshopId: string, riderId: string, epoch: number): string =>
  JSON.stringify(['rides', workshopId, riderId, epoch]);

export const ridesMark = (mark: string): string => mark.slice(0, MARK_SIGNS);

/** Returns a rider’s own address at the workshop’s mailbox. Source: RFC 5233 1, the detail after a plus sign. */
export function ridesAddress(mailbox: string, { riderId, mark }: RidesToken): string {
  const at = mailbox.lastIndexOf('@');
  return `${mailbox.slice(0, at)}+${riderId}-${mark}${mailbox.slice(at)}`;
}

const TOKEN = new RegExp(`^([0-9a-z]{1,40})-([0-9a-f]{${MARK_SIGNS}})$`, 'u');

/** Returns what the addresses of a mail claim of whose it is, each once; believed by nobody before its mark was checked. */
export function ridesTokens(mailbox: string, to: readonly string[]): RidesToken[] {
  const at = mailbox.toLowerCase().lastIndexOf('@');
  const [before, after] = [`${mailbox.toLowerCase().slice(0, at)}+`, mailbox.toLowerCase().slice(at)];
  const found = new Map<string, RidesToken>();
  for (const address of to) {
    const text = address.toLowerCase();
    if (!text.startsWith(before) || !text.endsWith(after)) continue;
    const match = TOKEN.exec(text.slice(before.length, text.length - after.length));
    if (match) found.set(match[0], { riderId: match[1]!, mark: match[2]! });
  }
  return [...found.values()];
}

/** Returns whether a machine wrote it, or a list passed it on: it is never answered. Source: RFC 3834 2. */
export const isAutomatic = (fields: MailFields): boolean =>
  (fields.autoSubmitted !== null && !/^\s*no\b/iu.test(fields.autoSubmitted)) ||
  (fields.precedence !== null && /^\s*(bulk|list|junk)\s*$/iu.test(fields.precedence)) ||
  (fields.returnPath !== null && /^\s*<\s*>\s*$/u.test(fields.returnPath)) ||
  fields.isOfList ||
  fields.isReport;

/**
 * Returns the one address that a mail comes from, where the server of that name says that its domain stands for it; else
 * null. Source: RFC 8601 2.2 and 2.7, RFC 7489 11 (`dmarc=pass`, `header.from`).
 */
export function provenSender(fields: MailFields, server: string): string | null {
  const [from] = fields.from;
  if (fields.from.length !== 1 || from === undefined || fields.authentication === null) return null;
  const [id = '', ...results] = withoutComments(fields.authentication).split(';');
  // A version may stand behind the server's name.
  if (id.trim().split(/\s+/u)[0]?.toLowerCase() !== server.toLowerCase()) return null;
  const domain = from.slice(from.lastIndexOf('@') + 1);
  const ofDmarc = results.map((one) => one.trim()).filter((one) => /^dmarc\s*=/iu.test(one));
  const [result] = ofDmarc;
  if (ofDmarc.length !== 1 || !/^dmarc\s*=\s*pass(?:\s|$)/iu.test(result!)) return null;
  const told = /\bheader\.from\s*=\s*"?([^\s";]+)/iu.exec(result!)?.[1];
  return told?.toLowerCase() === domain ? from : null;
}

/** Returns a header without what stands in brackets, which may hold brackets; quoted ones are text. Source: RFC 5322 3.2.2. */
function withoutComments(text: string): string {
  let [depth, isQuoted, kept] = [0, false, ''];
  for (let i = 0; i < text.length; i++) {
    const sign = text[i]!;
    if (sign === '\\') {
      if (depth === 0) kept += text.slice(i, i + 2);
      i++;
    } else if (isQuoted || (sign === '"' && depth === 0)) {
      if (sign === '"') isQuoted = !isQuoted;
      // Nothing in quotes may end a result.
      kept += isQuoted && sign === ';' ? ' ' : sign;
    } else if (sign === '(') depth++;
    else if (sign === ')') depth = Math.max(0, depth - 1);
    else if (depth === 0) kept += sign;
  }
  return kept;
}
