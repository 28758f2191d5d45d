import { createPrivateKey } from 'node:crypto';
import { createTransport } from 'nodemailer';
import { ServiceError } from '../errors.js';
import type { Mailer } from '../ports/mailer.js';
import { mailOptions } from './mailOptions.js';
import { classifyRefusal, type RelayRefusal } from './refusal.js';

/** A DKIM key of the sender's domain. Shape: privateKey is PEM, RSA. */
interface DkimKey {
  readonly domainName: string;
  readonly keySelector: string;
  readonly privateKey: string;
}

export interface SmtpOptions {
  readonly dkim?: DkimKey;
  /** For the connection, the greeting, a silent socket and the name lookup, each. Units: milliseconds. */
  readonly timeoutMs?: number;
  /** For a mail from the connection to the last answer, however talkative the relay is. Units: milliseconds. */
  readonly wholeMs?: number;
}

const TIMEOUT_MS = 30_000;
const WHOLE_MS = 60_000;

const wrongUse = (message: string, cause?: unknown): ServiceError =>
  new ServiceError('wrong-use', message, { cause });

const isHere = (host: string): boolean => /^(localhost|127\.\d+\.\d+\.\d+|\[::1\])$/.test(host);

/** A password never leaves this machine in the clear because somebody on the way removed the offer of TLS. */
const mustUpgrade = (url: URL): boolean =>
  url.protocol === 'smtp:' &&
  url.username !== '' &&
  !isHere(url.hostname) &&
  !url.searchParams.has('requireTLS') &&
  !url.searchParams.has('ignoreTLS');

const checkedUrl = (text: string): URL => {
  const url = URL.canParse(text) ? new URL(text) : null;
  if (url === null || !['smtp:', 'smtps:'].includes(url.protocol) || url.hostname === '')
    throw wrongUse('The mail server must be given as smtp://host:port or smtps://host:port.');
  return url;
};

/** An unusable key would leave mails unsigned without a word. */
const checkedDkim = (key: DkimKey): DkimKey => {
  try {
    if (createPrivateKey(key.privateKey).asymmetricKeyType !== 'rsa')
      throw wrongUse('The DKIM key must be an RSA key.');
  } catch (cause) {
    if (cause instanceof ServiceError) throw cause;
    throw wrongUse('The DKIM key cannot be read: it must be an RSA private key in PEM form.', cause);
  }
  return key;
};

const HINTS: Readonly<Record<RelayRefusal, string>> = {
  later: 'It will be tried again.',
  final: 'Call this person; the address takes no mail.',
  relay: 'Check the address, login and certificate of the mail server in STANCHION_SMTP_URL.',
};
const MESSAGES: Readonly<Record<RelayRefusal, string>> = {
  later: 'The mail server did not take the mail for now',
  final: 'The mail server refused the mail for good',
  relay: 'The mail server does not work with us',
};

/** Source: RFC 6409 3.1 (port 587, where TLS is asked for), RFC 8314 3.3 (port 465, where it stands from the start). */
const NOT_TLS =
  'it does not speak TLS at once on this port. Use smtp:// (often port 587), or smtps:// with the right port (often 465)';

const TOO_LONG = 'it took too long over one mail';

const saidBy = (cause: unknown): string => {
  if (cause instanceof Error && cause.name === 'TimeoutError') return TOO_LONG;
  const said = cause instanceof Error ? cause.message : String(cause);
  return /wrong version number/i.test(said) ? NOT_TLS : said;
};

const mailFailed = (cause: unknown): ServiceError => {
  const refusal = classifyRefusal(cause);
  return new ServiceError('mail-failed', `${MESSAGES[refusal]}: ${saidBy(cause)}`, {
    hint: HINTS[refusal],
    permanent: refusal === 'final',
    cause,
  });
};

/**
 * Returns a mailer that hands mails to the relay of an URL: `smtps:` is TLS from the first byte, `smtp:` takes TLS
 * where the relay offers it. With `?requireTLS=true`, or a password for another machine, it insists on it.
 * Errors: ServiceError `wrong-use` for an unusable URL or key; in `deliver` `mail-failed`, permanent only where this
 * mail or its recipient was refused for good. After an answer that was lost, the mail may have been taken: it is tried
 * again under the same message id.
 * Source: RFC 5321 6.1.
 */
export const smtpMailer = (url: string, options: SmtpOptions = {}): Mailer => {
  const timeout = options.timeoutMs ?? TIMEOUT_MS;
  const server = checkedUrl(url);
  const transport = createTransport({
    url: server.href,
    ...(mustUpgrade(server) ? { requireTLS: true } : {}),
    ...(options.dkim === undefined ? {} : { dkim: { ...checkedDkim(options.dkim) } }),
    connectionTimeout: timeout,
    greetingTimeout: timeout,
    socketTimeout: timeout,
    dnsTimeout: timeout,
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  return {
    async deliver(mail, stop) {
      const composed = mailOptions(mail);
      const late = AbortSignal.timeout(options.wholeMs ?? WHOLE_MS);
      const signal = stop === undefined ? late : AbortSignal.any([late, stop]);
      try {
        await transport.sendMail({ ...composed, signal } as typeof composed);
      } catch (cause) {
        throw mailFailed(late.aborted ? late.reason : cause);
      }
    },
  };
};
