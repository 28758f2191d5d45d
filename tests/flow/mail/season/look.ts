/** What the ledger says while mails are written, what was said so far, and what is not as the pencil has it. */
import { expect } from 'vitest';
import type { MailKind } from '../../../../src/core/notices/notice/notice.js';
import type { DueRow } from '../../../../src/flow/due/listDue.js';
import { type CallRow, listCalls } from '../../../../src/flow/mail/listCalls.js';
import type { StandingRow } from '../../../../src/ports/standings.js';
import type { Figures, Kind } from './pencil.js';
import type { ReadItem } from './readReminder.js';
import type { Play } from './seasonPlay.js';

/** As mails write hours: at most one decimal. */
export const shown = (hours: number): string => String(Math.round((hours + 1e-9) * 10) / 10);
export const daysFrom = (a: string, b: string): number => (Date.parse(b) - Date.parse(a)) / 86_400_000;

/** A job that a rider was told of. */
export interface Said {
  readonly n: number;
  readonly on: string;
  readonly tag: string;
  readonly kind: Kind;
  readonly since: string | null;
  readonly state: ReadItem['state'];
}

export class Look {
  readonly held = {
    figures: 0,
    reminders: 0,
    digests: 0,
    rows: 0,
    calls: 0,
    rides: 0,
    freeDays: 0,
    stops: 0,
    silences: 0,
  };
  readonly reasons = new Map<string, number>();
  /** What is not as the pencil has it. */
  readonly faults: string[] = [];
  readonly said: Said[] = [];
  /** Days on which a rider had a reminder or was asked about silence. */
  readonly reminded: string[] = [];
  /** The mornings on which a job was in a state that is told; for what is said again. */
  readonly states = new Map<string, { on: string; state: string }[]>();
  readonly listed = new Set<string>();
  readonly silent = new Set<string>();
  isRefusalKnown = false;
  lastDigest: string | null = null;
  rows: readonly DueRow[] = [];
  standings = new Map<string, StandingRow>();
  calls: readonly CallRow[] = [];

  readonly #kinds = new Map<string, MailKind>();

  constructor(readonly play: Play) {}

  /** Takes down how the ledger stands when mails are written. */
  async lookAround(): Promise<void> {
    const { store } = this.play.world;
    this.rows = await this.play.due();
    await store.read(async (tx) => {
      this.standings = new Map(
        (await tx.standings.list()).map((one) => [`${one.unitId} ${one.serviceKind}`, one]),
      );
      for (const { messageId, mail } of await tx.mails.listLatest({ most: 200 }))
        this.#kinds.set(messageId, mail);
      this.calls = await listCalls(tx, this.play.world.flow.deps.clock.now());
    });
    for (const row of this.rows) {
      const key = `${row.unit} ${row.serviceKind}`;
      const states = this.states.get(key) ?? [];
      if (states.at(-1)?.state !== row.state) states.push({ on: this.play.today, state: row.state });
      this.states.set(key, states);
      await this.tell(key, () => this.#holdState(row));
    }
  }

  figures = (tag: string, kind: Kind): Figures =>
    this.play.pencil.figures(tag, kind, this.play.at, this.play.today);
  row = (tag: string, kind: string): DueRow =>
    this.rows.find((row) => row.unit === tag && row.serviceKind === kind)!;

  /** Every state of the ledger is the pencil's; whether something open comes up, the forecast says. */
  #holdState({ unit, serviceKind, state }: DueRow): void {
    const { marked } = this.play;
    const expected = marked.has(unit)
      ? 'stop-riding'
      : this.figures(unit, serviceKind as Kind).state.replace(' ', '-');
    const open = state === 'in-time' || state === 'coming-up' ? 'open' : state.replace('history-', '');
    expect(`${unit} ${serviceKind} ${open}`, this.play.today).toBe(`${unit} ${serviceKind} ${expected}`);
  }

  kindOf(messageId: string): MailKind {
    const kind = this.#kinds.get(messageId);
    if (kind === undefined) throw new Error(`the store knows no mail ${messageId}`);
    return kind;
  }

  /** Notes that a reason of a kind was really held. */
  note(reason: string): void {
    this.reasons.set(reason, (this.reasons.get(reason) ?? 0) + 1);
  }

  listKey = (tag: string, kind: Kind, state: string): string =>
    JSON.stringify([tag, kind, state, this.figures(tag, kind).since]);

  /** Goes on after what is not so, to tell all of it at once. */
  async tell(where: string, look: () => void | Promise<void>): Promise<void> {
    try {
      await look();
    } catch (error) {
      this.faults.push(`${this.play.today} ${where}: ${(error as Error).message}`);
    }
  }
}
