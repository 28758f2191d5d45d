/** What an export holds beside the rows of the import file, each kind after those that it refers to. */
export const COPIED = [
  'erasure',
  'fact',
  'handle',
  'contact',
  'file',
  'arrival',
  'reading',
  'reading_again',
  'reading_mark',
  'mail',
  'notice',
  'lead',
  'later',
  'mailed',
  'mailed_rider',
] as const;

export type Copied = (typeof COPIED)[number];

export type CopiedRow = Readonly<Record<string, unknown>>;

/** The ledger's rows as they are stored, to be taken whole into another store. */
export interface CopyTable {
  /** The name of the schema that the rows have. */
  readonly schema: string;
  /** One at a time, in an order in which they can be added. */
  rows(of: Copied): AsyncIterable<CopiedRow>;
  /** Returns false where it is there already. Errors: `refused` where what is there contradicts it. */
  add(of: Copied, row: CopiedRow): Promise<boolean>;
}
