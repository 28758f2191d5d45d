import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type ScanDeps, scanInboxOnce } from '../../../src/flow/take/scanInbox.js';
import { openDropFolder } from '../../../src/inbox/dropFolder.js';
import type { InboxRow } from '../../../src/ports/inbox.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { scratchFolder } from '../../fixtures/program.js';
import { DOCUMENT, FlowWorld } from '../flowWorld.js';

export const NOON = '2025-06-18T12:00:00Z';

/** A ride by the second, in a real format. */
export const gpx = (start: string, minutes = 10, type = 'cycling'): Uint8Array =>
  textBytes(gpxText([{ type, segments: [straightTrack(Date.parse(start), minutes * 60 + 1)] }]));

/** A real drop folder over a real store. */
export class FolderWorld {
  private constructor(
    readonly root: string,
    readonly world: FlowWorld,
    readonly deps: ScanDeps,
    /** Each time a file was opened. */
    readonly opened: readonly string[],
  ) {}

  static async open(document: object = DOCUMENT): Promise<FolderWorld> {
    const root = join(scratchFolder(), 'inbox');
    const world = await FlowWorld.open(NOON, document);
    const { reader } = world.deps;
    const opened: string[] = [];
    const noted = <T>(path: string, work: () => T): T => {
      opened.push(path.slice(root.length + 1));
      return work();
    };
    const deps: ScanDeps = {
      ...world.deps,
      reader: {
        ...reader,
        open: (path, name) => noted(path, () => reader.open(path, name)),
        isWhole: (path) => noted(path, () => reader.isWhole(path)),
      },
      inbox: await openDropFolder(root),
    };
    return new FolderWorld(root, world, deps, opened);
  }

  put(path: string, bytes: Uint8Array | string): string {
    const full = join(this.root, path);
    mkdirSync(dirname(full), { recursive: true });
    writeFileSync(full, bytes);
    return full;
  }

  remove(path: string): void {
    rmSync(join(this.root, path));
  }

  scan = async (): Promise<boolean> => (await scanInboxOnce(this.deps)).isNews;
  told = (folder = 'r1'): string => readFileSync(join(this.root, folder, 'what happened.txt'), 'utf8');
  /** What is told of one file, and of those in it. */
  line = (path: string, folder = 'r1'): string =>
    `\n${this.told(folder)}`.split(`\n${path}: `)[1]?.split(/\n(?! {2})/)[0] ?? '';
  rows = (): Promise<readonly InboxRow[]> => this.deps.store.read((tx) => tx.inbox.list());

  async movingHours(unit = 'F-1'): Promise<number> {
    return (await this.world.due(unit)).movingHoursSince;
  }
}
