/** What a failed handing-over means: try again, never again for this mail, or the relay itself needs a person. */
export type RelayRefusal = 'later' | 'final' | 'relay';

/** The parts of a mail library's error that say what happened. */
interface SmtpFailure {
  readonly code?: unknown;
  readonly responseCode?: unknown;
  readonly response?: unknown;
  readonly command?: unknown;
  readonly message?: unknown;
}

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

/** Faults of the connection's trust or login: neither the mail nor its recipient is to blame. */
const RELAY_CODES = new Set(['EAUTH', 'ENOAUTH', 'EOAUTH2', 'ETLS', 'EREQUIRETLS', 'ECONFIG', 'EPROXY']);
const LOGIN_REPLIES = new Set([454, 530, 534, 535, 538]);
const TLS_FAULT = /certificate|self-signed|wrong version number|SSL routines|altnames/i;
/** Faults of the mail itself, found before anything was sent. */
const MAIL_CODES = new Set(['EENVELOPE', 'EMESSAGE', 'EFILEACCESS', 'EURLACCESS']);

const ofReply = (reply: number, failure: SmtpFailure): RelayRefusal => {
  if (reply < 500 || reply === 552) return 'later';
  const command = text(failure.command).toUpperCase();
  if (command.startsWith('RCPT')) return /\brelay(ing)?\b/i.test(text(failure.response)) ? 'relay' : 'final';
  return command.startsWith('DATA') ? 'final' : 'relay';
};

/**
 * Returns whether trying again can help.
 * Source: RFC 5321 4.2.1 (4yz again, 5yz not) and 4.5.3.1.10 (552 as temporary); a 5yz answer before the recipient
 * was named is about us and not about him: common practice, no source.
 */
export const classifyRefusal = (error: unknown): RelayRefusal => {
  const failure: SmtpFailure = typeof error === 'object' && error !== null ? error : {};
  const reply = typeof failure.responseCode === 'number' ? failure.responseCode : null;
  const code = text(failure.code);
  if (reply !== null && LOGIN_REPLIES.has(reply)) return 'relay';
  if (RELAY_CODES.has(code)) return reply !== null && reply < 500 ? 'later' : 'relay';
  if (reply !== null) return ofReply(reply, failure);
  if (TLS_FAULT.test(text(failure.message))) return 'relay';
  return MAIL_CODES.has(code) ? 'final' : 'later';
};
