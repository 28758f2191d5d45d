import type { Reading } from '../core/ground/samples/reading.js';

export interface ReadingRow {
  readonly id: string;
  readonly fileId: string;
  readonly part: number;
  readonly reading: Reading;
}

export interface ReadingTable {
  add(fileId: string, part: number, reading: Reading): Promise<ReadingRow>;
  listOfFile(fileId: string): Promise<readonly ReadingRow[]>;
  getMany(ids: readonly string[]): Promise<readonly ReadingRow[]>;
  listIds(): Promise<readonly string[]>;
}
