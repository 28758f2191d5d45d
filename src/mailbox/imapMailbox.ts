import { type FetchMessageObject, ImapFlow, type MessageStructureObject } from 'imapflow';
import { ServiceError } from '../errors.js';
import type { MailHead, MailPart, OpenPostbox, Postbox } from '../ports/inbox.js';
import { instant } from '../units.js';
import { fieldsOf } from './mailFields.js';

/** Where the mailbox is, and how it is opened. */
export interface MailboxAccess {
  readonly host: string;
  readonly port: number;
  /** TLS from the first byte; else the connection is made safe by STARTTLS before a password goes over it. */
  readonly isTls: boolean;
  readonly user: string;
  readonly password: string;
  readonly folder: string;
  /** Where mails that were taken are moved; null leaves them where they lie. */
  readonly doneFolder: string | null;
}

/** Units: milliseconds. A server that answers next to nothing is not waited for. */
const CONNECT_MS = 20_000;
const SILENT_MS = 30_000;
/** Of a head so many bytes are read: no honest one is as long. */
const HEAD_BYTES = 64 * 1024;
const CHUNK_BYTES = 256 * 1024;
/** What a server may send at once; a mail’s parts are fetched in chunks. */
const MOST_AT_ONCE = 4 * 1024 * 1024;
const MOST_PARTS = 200;
/** So many numbers, of ten digits each, are less than is taken at once. */
const MOST_ASKED = 200_000;
const FEWEST_ASKED = 10_000;

/** Returns a mailbox behind IMAP. Source: RFC 9051; EXAMINE and BODY.PEEK leave no mark on a mail. */
export const imapMailbox = (access: MailboxAccess): Postbox => ({
  visit: async (signal, work) => {
    const client = clientFor(access);
    // What goes wrong is thrown by the call that it happens to; without this a cut line ends the program.
    client.on('error', () => undefined);
    const cut = (): void => client.close();
    signal.addEventListener('abort', cut);
    try {
      if (signal.aborted) throw new Error('asked to end');
      await client.connect();
      const { uidValidity } = await client.mailboxOpen(access.folder, {
        readOnly: access.doneFolder === null,
      });
      const done = await work(opened(client, String(uidValidity), access.doneFolder));
      await client.logout();
      return done;
    } catch (cause) {
      throw cause instanceof ServiceError ? cause : mailboxFailed(cause);
    } finally {
      signal.removeEventListener('abort', cut);
      client.close();
    }
  },
});

const clientFor = ({ host, port, isTls, user, password }: MailboxAccess): ImapFlow =>
  new ImapFlow({
    ...{ host, port, secure: isTls, auth: { user, pass: password } },
    // On this machine nobody listens on the way.
    ...(isTls || isOwnMachine(host) ? {} : { doSTARTTLS: true }),
    ...{ logger: false, disableAutoIdle: true, disableCompression: true },
    ...{ connectionTimeout: CONNECT_MS, greetingTimeout: CONNECT_MS, socketTimeout: SILENT_MS },
    ...{ maxLineLength: MOST_AT_ONCE, maxLiteralSize: MOST_AT_ONCE, maxResponseSize: 2 * MOST_AT_ONCE },
    maxResponseTokens: 100_000,
  });

const isOwnMachine = (host: string): boolean => ['localhost', '127.0.0.1', '::1', '[::1]'].includes(host);

/** A wrong password is said as such: everything else may mend itself. */
function mailboxFailed(cause: unknown): ServiceError {
  const isRefused = (cause as { authenticationFailed?: boolean }).authenticationFailed === true;
  return isRefused
    ? new ServiceError('mailbox-failed', 'The mailbox refuses the name or password.', {
        hint: 'STANCHION_IMAP_URL has the name, STANCHION_IMAP_PASSWORD_FILE the password.',
        cause,
      })
    : new ServiceError('mailbox-failed', 'The mailbox does not answer.', {
        hint: 'Is the mail server up, and STANCHION_IMAP_URL right? It is tried again by itself.',
        cause,
      });
}

function opened(client: ImapFlow, validity: string, doneFolder: string | null): OpenPostbox {
  return {
    validity,
    list: async (after, most) => {
      const heads: MailHead[] = [];
      for await (const uid of uidsAfter(client, after)) {
        const head = await headOf(client, uid);
        if (head !== null) heads.push(head);
        if (heads.length === most) break;
      }
      return heads;
    },
    read: (uid, part, mostBytes) => readPart(client, uid, part, mostBytes),
    putAway: async (uid) => {
      if (doneFolder !== null) await client.messageMove(String(uid), doneFolder, { uid: true });
    },
  };
}

/**
 * Yields the numbers of the mails after one, in order. A mailbox that always was others' holds more than a server may name
 * in one line, so that some are asked for at a time; where there are none, more.
 */
async function* uidsAfter(client: ImapFlow, after: number): AsyncGenerator<number> {
  const next = client.mailbox ? client.mailbox.uidNext : 0;
  let window = FEWEST_ASKED;
  for (let from = after + 1; from < next; ) {
    const to = Math.min(from + window, next) - 1;
    const found = (await client.search({ uid: `${from}:${to}` }, { uid: true })) || [];
    yield* found.filter((uid) => uid >= from && uid <= to).sort((a, b) => a - b);
    if (found.length === 0) window = Math.min(2 * window, MOST_ASKED);
    from = to + 1;
  }
}

/** Null where it was deleted meanwhile. */
async function headOf(client: ImapFlow, uid: number): Promise<MailHead | null> {
  const head = await client.fetchOne(
    String(uid),
    {
      ...{ uid: true, size: true, internalDate: true, bodyStructure: true },
      bodyParts: [{ key: 'header', maxLength: HEAD_BYTES }],
    },
    { uid: true },
  );
  return head ? mailHead(uid, head) : null;
}

const mailHead = async (uid: number, head: FetchMessageObject): Promise<MailHead> => ({
  uid,
  bytes: head.size ?? 0,
  arrivedAt: instant(new Date(head.internalDate ?? 0).getTime()),
  fields: await fieldsOf(head.headers ?? Buffer.alloc(0)),
  parts: head.bodyStructure ? partsOf(head.bodyStructure) : [],
});

/**
 * Returns the parts that were sent as files. The only part of a mail is its part 1, also of one inside another.
 * Source: RFC 9051 6.4.5.
 */
function partsOf(root: MessageStructureObject): MailPart[] {
  const found: MailPart[] = [];
  const look = (node: MessageStructureObject, isInMail: boolean): void => {
    const isMail = node.type === 'message/rfc822';
    for (const child of node.childNodes ?? []) if (found.length < MOST_PARTS) look(child, isMail);
    const name = node.dispositionParameters?.filename ?? node.parameters?.name ?? '';
    const isFile = name !== '' || node.disposition === 'attachment';
    if (!node.childNodes && isFile && !/^(?:text\/html|multipart\/|message\/)/u.test(node.type))
      found.push({ part: isInMail ? `${node.part}.1` : (node.part ?? '1'), name: nameOf(name) });
  };
  // A mail that is a mail and nothing else numbers what is in it in a way of its own.
  if (root.type !== 'message/rfc822') look(root, false);
  return found;
}

/** Another’s folder is no part of a name. */
const nameOf = (name: string): string => name.split(/[/\\]/u).at(-1)!.replaceAll(/\p{C}/gu, '').slice(0, 200);

async function* readPart(
  client: ImapFlow,
  uid: number,
  part: string,
  mostBytes: number,
): AsyncIterable<Uint8Array> {
  const { content } = await client.download(String(uid), part, {
    ...{ uid: true, maxBytes: mostBytes, chunkSize: CHUNK_BYTES },
  });
  if (!content) throw new ServiceError('mailbox-failed', 'A mail went while it was read.');
  yield* content;
}
