import { isIP } from 'node:net';
import { join } from 'node:path';
import { z } from 'zod';
import { ServiceError } from './errors.js';

/** `faultOf` knows more of what is wrong with a text, or returns null. */
const url = (protocols: readonly string[], faultOf: (text: string) => string | null = () => null) =>
  z.string().superRefine((text, { addIssue }) => {
    const isOne = URL.canParse(text) && protocols.includes(new URL(text).protocol);
    const wanted = `must be a URL that starts with ${protocols.map((one) => `${one}//`).join(' or ')}`;
    const message = faultOf(text) ?? (isOne ? null : wanted);
    if (message !== null) addIssue({ code: 'custom', message });
  });

const isDecodable = (text: string): boolean => {
  try {
    decodeURIComponent(text);
    return true;
  } catch (error) {
    if (error instanceof URIError) return false;
    throw error;
  }
};

/** Whether a sign in name or password, which has a meaning of its own in a URL, breaks it. */
const isBroken = (text: string): boolean => {
  if (!/^(?:smtp|imap)s?:\/\/.*@/.test(text)) return false;
  if (!URL.canParse(text)) return true;
  const { username, password, pathname, search, hash } = new URL(text);
  if (username === '') return `${pathname}${search}${hash}`.includes('@');
  return !isDecodable(username) || !isDecodable(password);
};

const ENCODE = 'cannot be read: in its name or password, write % # / ? : @ as %25 %23 %2F %3F %3A %40';
const smtpUrl = url(['smtp:', 'smtps:'], (text) => (isBroken(text) ? ENCODE : null));

/** Pages, cookies and links lie at the root of a host. */
const pathOf = (text: string): string | null => {
  if (!URL.canParse(text)) return null;
  const { pathname, search, hash, username } = new URL(text);
  return /^\/+$/.test(pathname) && `${search}${hash}${username}` === ''
    ? null
    : 'must be a host without a path, such as https://bench.example.org: give the pages a host of their own';
};

/** Whether it is an address, or a network such as 10.0.0.0/8. */
const isAddress = (text: string): boolean => {
  const [address = '', bits, ...more] = text.split('/');
  const most = isIP(address) === 4 ? 32 : 128;
  return (
    isIP(address) !== 0 &&
    more.length === 0 &&
    (bits === undefined || (/^\d{1,3}$/.test(bits) && Number(bits) <= most))
  );
};

const addresses = z
  .string()
  .transform((text) => text.split(/[\s,]+/).filter((one) => one !== ''))
  .refine((all) => all.every(isAddress), {
    error: 'must be addresses, such as 127.0.0.1, or networks, such as 10.0.0.0/8, with commas between them',
  });

/** Signing needs all three, or mails would go out unsigned without a word. */
const DKIM = ['STANCHION_DKIM_DOMAIN', 'STANCHION_DKIM_SELECTOR', 'STANCHION_DKIM_KEY_FILE'] as const;

const FIELDS = z.object({
  STANCHION_DATA: z.string().min(1).default('./data'),
  PORT: z.coerce.number().int().min(0).max(65_535).default(8321),
  STANCHION_HOST: z.string().min(1).default('127.0.0.1'),
  STANCHION_DATABASE_URL: url(['postgres:', 'postgresql:']).optional(),
  STANCHION_WORKSHOP: z
    .string()
    .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, { error: 'must be small letters, digits and single dashes' })
    .optional(),
  STANCHION_ORIGINALS: z.string().min(1).optional(),
  STANCHION_PHOTOS: z.string().min(1).optional(),
  STANCHION_INBOX: z.string().min(1).optional(),
  STANCHION_PUBLIC_URL: url(['http:', 'https:'], pathOf).optional(),
  STANCHION_TRUSTED_PROXY: addresses.optional(),
  // What a bearer token may hold. Source: RFC 6750 2.1.
  STANCHION_METRICS_SECRET: z
    .string()
    .regex(/^(?=.{16})[A-Za-z0-9._~+/-]+=*$/, {
      error: 'must have at least 16 letters, digits or signs of - . _ ~ + /, and no space',
    })
    .optional(),
  STANCHION_SMTP_URL: smtpUrl.optional(),
  STANCHION_IMAP_URL: url(['imap:', 'imaps:'], (text) => (isBroken(text) ? ENCODE : null)).optional(),
  STANCHION_IMAP_PASSWORD_FILE: z.string().min(1).optional(),
  STANCHION_RIDES_ADDRESS: z.email().max(80).optional(),
  STANCHION_IMAP_AUTH: z.string().min(1).optional(),
  STANCHION_IMAP_DONE_FOLDER: z.string().min(1).optional(),
  STANCHION_MAIL_FOLDER: z.enum(['final']).optional(),
  STANCHION_DKIM_DOMAIN: z.hostname().optional(),
  STANCHION_DKIM_SELECTOR: z
    .string()
    .regex(/^[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?$/, { error: 'must be the name of a DNS entry' })
    .optional(),
  STANCHION_DKIM_KEY_FILE: z.string().optional(),
  STANCHION_MAIL_SIGNED_BY_RELAY: z.enum(['yes', 'no']).default('no'),
  STANCHION_SECRET: z.string().min(32, { error: 'must have at least 32 characters' }).optional(),
  STANCHION_PASSWORD: z.string().optional(),
  STANCHION_KEEP_ORIGINALS_MONTHS: z.coerce.number().int().min(1).max(1200).default(13),
  STANCHION_SIGNED_IN_DAYS: z.coerce.number().int().min(1).max(14).default(3),
  STANCHION_BACKUPS_KEPT: z.coerce.number().int().min(0).max(1000).default(7),
  STANCHION_BACKUP_HOUR: z.coerce.number().int().min(0).max(23).default(3),
});

/** The names of all settings. */
export const SETTINGS: readonly string[] = Object.keys(FIELDS.shape);
/** Of those that have one. */
export const DEFAULTS = FIELDS.parse({});

const SCHEMA = FIELDS.superRefine((of, context) => {
  if (of.STANCHION_DATABASE_URL !== undefined && of.STANCHION_SECRET === undefined)
    context.addIssue({
      code: 'custom',
      path: ['STANCHION_SECRET'],
      message:
        'must be set, the same on each machine, where the store is on a server: links are signed with it',
    });
  if ((of.STANCHION_IMAP_URL === undefined) !== (of.STANCHION_RIDES_ADDRESS === undefined))
    context.addIssue({
      code: 'custom',
      path: [of.STANCHION_IMAP_URL === undefined ? 'STANCHION_IMAP_URL' : 'STANCHION_RIDES_ADDRESS'],
      message: 'must be set too: the mailbox and the address that riders write to go together',
    });
  const missing = DKIM.filter((name) => of[name] === undefined);
  if (missing.length === 0 || missing.length === DKIM.length) return;
  for (const name of missing)
    context.addIssue({
      code: 'custom',
      path: [name],
      message: `must be set too: ${DKIM.join(', ')} go together`,
    });
});

/** The mailbox that riders mail their rides to. */
export interface MailboxSetting {
  readonly url: string;
  /** In place of a password in the URL. */
  readonly passwordFile: string | null;
  readonly address: string;
  /** The server whose word on who sent a mail counts; null: nobody’s. */
  readonly server: string | null;
  readonly doneFolder: string | null;
}

/** Who signs mails here, for the domain that they come from. */
export interface DkimSetting {
  readonly domain: string;
  readonly selector: string;
  readonly keyFile: string;
}

/** One backup a day by the program itself. */
export interface BackupSetting {
  /** So many days' are kept; none are made where it is 0. */
  readonly kept: number;
  /** On the workshop's clocks. */
  readonly hour: number;
}

/** The settings of one run, from the environment. */
export interface Config {
  readonly dataFolder: string;
  /** Of a PostgreSQL server; null where the store is a file in the data folder. */
  readonly databaseUrl: string | null;
  /** Which workshop of the store; empty where there is but one. */
  readonly workshop: string;
  /** Where ride files are kept. */
  readonly originalsFolder: string;
  /** Where photographs are kept, of one workshop alone: what nothing in it names is deleted. */
  readonly photosFolder: string;
  readonly port: number;
  readonly host: string;
  /** Where riders' files are laid. */
  readonly inboxFolder: string;
  /** A host, without a slash at its end. */
  readonly publicUrl: string | null;
  /** Addresses and networks whose word on where a request comes from counts. */
  readonly trustedProxy: readonly string[];
  /** Whoever shows it sees figures. */
  readonly metricsSecret: string | null;
  readonly smtpUrl: string | null;
  readonly mailbox: MailboxSetting | null;
  /** Without a relay: the folder of mails is where they are meant to end, so that they count as handed over. */
  readonly isMailFolderEnd: boolean;
  readonly dkim: DkimSetting | null;
  /** Whether the relay signs, as its owner states. */
  readonly isSignedByRelay: boolean;
  readonly secret: string | null;
  readonly password: string | null;
  /** A session that nobody used for so long has ended. */
  readonly restDays: number;
  /** How long ride files are kept after they were last handed over; what was read from them stays. */
  readonly keepOriginalsMonths: number;
  readonly backups: BackupSetting;
}

/** A setting that was typed behind a command, which goes before the environment. */
export interface TypedSetting {
  readonly option: string;
  readonly value: string;
}

/**
 * Returns the settings checked once: the environment and, before it, what was typed by the name of the setting.
 * Errors: `wrong-use`, naming each setting that is wrong and where it came from.
 */
export function readConfig(
  env: Readonly<Record<string, string | undefined>>,
  typed: Readonly<Record<string, TypedSetting>> = {},
): Config {
  const set = Object.fromEntries(
    Object.entries({
      ...env,
      ...Object.fromEntries(Object.entries(typed).map(([name, { value }]) => [name, value])),
    }).filter(([, value]) => value !== undefined && value !== ''),
  );
  const checked = SCHEMA.safeParse(set);
  if (!checked.success) {
    const wrong = checked.error.issues.map(({ path, message }) => {
      const name = path.join('.');
      const from = typed[name]?.option ?? (name in set ? `${name} of the environment` : name);
      return `${from}: ${message}`;
    });
    throw new ServiceError('wrong-use', `There are settings that cannot be used:\n${wrong.join('\n')}`);
  }
  const of = checked.data;
  return Object.freeze({
    dataFolder: of.STANCHION_DATA,
    databaseUrl: of.STANCHION_DATABASE_URL ?? null,
    workshop: of.STANCHION_WORKSHOP ?? '',
    originalsFolder: of.STANCHION_ORIGINALS ?? join(of.STANCHION_DATA, 'originals'),
    photosFolder:
      of.STANCHION_PHOTOS === undefined
        ? join(of.STANCHION_DATA, 'photos')
        : join(of.STANCHION_PHOTOS, of.STANCHION_WORKSHOP ?? ''),
    port: of.PORT,
    host: of.STANCHION_HOST,
    inboxFolder: of.STANCHION_INBOX ?? join(of.STANCHION_DATA, 'inbox'),
    trustedProxy: of.STANCHION_TRUSTED_PROXY ?? [],
    metricsSecret: of.STANCHION_METRICS_SECRET ?? null,
    publicUrl: of.STANCHION_PUBLIC_URL?.replace(/\/+$/, '') ?? null,
    smtpUrl: of.STANCHION_SMTP_URL ?? null,
    mailbox:
      of.STANCHION_IMAP_URL && of.STANCHION_RIDES_ADDRESS
        ? {
            url: of.STANCHION_IMAP_URL,
            passwordFile: of.STANCHION_IMAP_PASSWORD_FILE ?? null,
            address: of.STANCHION_RIDES_ADDRESS,
            server: of.STANCHION_IMAP_AUTH ?? null,
            doneFolder: of.STANCHION_IMAP_DONE_FOLDER ?? null,
          }
        : null,
    isMailFolderEnd: of.STANCHION_MAIL_FOLDER === 'final',
    dkim:
      of.STANCHION_DKIM_DOMAIN && of.STANCHION_DKIM_SELECTOR && of.STANCHION_DKIM_KEY_FILE
        ? {
            domain: of.STANCHION_DKIM_DOMAIN,
            selector: of.STANCHION_DKIM_SELECTOR,
            keyFile: of.STANCHION_DKIM_KEY_FILE,
          }
        : null,
    isSignedByRelay: of.STANCHION_MAIL_SIGNED_BY_RELAY === 'yes',
    secret: of.STANCHION_SECRET ?? null,
    password: of.STANCHION_PASSWORD ?? null,
    keepOriginalsMonths: of.STANCHION_KEEP_ORIGINALS_MONTHS,
    restDays: of.STANCHION_SIGNED_IN_DAYS,
    backups: { kept: of.STANCHION_BACKUPS_KEPT, hour: of.STANCHION_BACKUP_HOUR },
  });
}
