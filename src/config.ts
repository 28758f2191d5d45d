import { z } from 'zod';
import { ServiceError } from './errors.js';

const url = (protocols: readonly string[]) =>
  z.string().refine((text) => URL.canParse(text) && protocols.includes(new URL(text).protocol), {
    error: `must be a URL that starts with ${protocols.map((one) => `${one}//`).join(' or ')}`,
  });

const SCHEMA = z.object({
  STANCHION_DATA: z.string().min(1).default('./data'),
  PORT: z.coerce.number().int().min(0).max(65_535).default(8321),
  STANCHION_HOST: z.string().min(1).default('127.0.0.1'),
  STANCHION_PUBLIC_URL: url(['http:', 'https:']).optional(),
  STANCHION_SMTP_URL: url(['smtp:', 'smtps:']).optional(),
  STANCHION_SECRET: z.string().min(32, { error: 'must have at least 32 characters' }).optional(),
  STANCHION_PASSWORD: z.string().optional(),
});

/** The settings of one run, from the environment. */
export interface Config {
  readonly dataFolder: string;
  readonly port: number;
  readonly host: string;
  readonly publicUrl: string | null;
  readonly smtpUrl: string | null;
  readonly secret: string | null;
  readonly password: string | null;
}

/** Returns the environment checked once. Errors: `wrong-use`, naming each setting that is wrong. */
export function readConfig(env: Readonly<Record<string, string | undefined>>): Config {
  const set = Object.fromEntries(
    Object.entries(env).filter(([, value]) => value !== undefined && value !== ''),
  );
  const checked = SCHEMA.safeParse(set);
  if (!checked.success) {
    const wrong = checked.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`).join('\n');
    throw new ServiceError(
      'wrong-use',
      'read the settings',
      `The environment has settings that cannot be used:\n${wrong}`,
    );
  }
  const of = checked.data;
  return Object.freeze({
    dataFolder: of.STANCHION_DATA,
    port: of.PORT,
    host: of.STANCHION_HOST,
    publicUrl: of.STANCHION_PUBLIC_URL?.replace(/\/+$/, '') ?? null,
    smtpUrl: of.STANCHION_SMTP_URL ?? null,
    secret: of.STANCHION_SECRET ?? null,
    password: of.STANCHION_PASSWORD ?? null,
  });
}
