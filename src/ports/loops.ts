import type { Day } from '../units.js';

/** What goes on by itself beside the pages. */
export const LOOP_NAMES = [
  'folder',
  'mailbox',
  'remind',
  'safety',
  'deliver',
  'sweep',
  'originals',
  'reread',
  'backup',
] as const;
export type LoopName = (typeof LOOP_NAMES)[number];

/** How a loop is doing, by a clock that only runs forward. Units: seconds. */
export interface LoopPulse {
  readonly name: string;
  /** How long the step under way has taken; null between steps. */
  readonly runningS: number | null;
  readonly sinceEndedS: number | null;
  /** Between two steps. */
  readonly pauseS: number;
  readonly failedInARow: number;
  /** Since the first of these; null where the last step did not fail. */
  readonly failingS?: number | null;
  /** A step that takes longer hangs. */
  readonly longestS: number;
  /** What the step under way does, where it said so; no name of anybody. */
  readonly doing: string | null;
  /** How many of its things are left, where it said so; kept between steps until nothing is left. */
  readonly left?: number | null;
  /** Why the last step failed; null where it did not. */
  readonly why: string | null;
}

/** A step's share of the time, and how it says what it does. */
export interface Turn {
  /** Whether the step shall leave the rest to the next: its time is up, or the program was asked to end. */
  isOver(): boolean;
  /** Aborted some seconds after the program was asked to end. */
  readonly signal: AbortSignal;
  doing: Doing;
}

/** Says what is done now, in words that name nobody, and how much of it is left where that is known. */
export type Doing = (what: string, left?: number) => void;

/** Does once what there is to do; true where more is left for the next turn. */
export type Step = (turn: Turn) => Promise<boolean>;

/** The loops of one process that works on the store, by its own last word. */
export interface Heartbeat {
  /** The machine that it is on. */
  readonly host: string;
  readonly isOwn: boolean;
  /** Whether it is known to have ended. */
  readonly isGone: boolean;
  /** Whose drop folder it scans. */
  readonly home: string;
  readonly loops: readonly LoopPulse[];
  /** Since that word, by the store's clock. Units: seconds. */
  readonly silentS: number;
}

/** How this process is doing. */
export interface Vitals {
  loops(): readonly LoopPulse[];
  /** Since the drop folder was scanned to its end; null before. */
  sinceScanS(): number | null;
  /** The same, and before the first scan since the program runs: for so long a file may have waited. */
  scanLagS?(): number;
}

/** How reading files goes. */
export interface DecoderState {
  /** Of the file that has been read for longest; null where none is. Units: seconds. */
  readonly inHandS: number | null;
  /** Files that were given up by a fault of the decoder, since one was not. */
  readonly brokeInARow: number;
}

/** A command that takes long, beside what goes on by itself. */
export interface CommandAtWork {
  readonly command: string;
  /** Of whatever it goes through. */
  readonly left: number;
}

/** How the machine is that a process runs on. */
export interface MachineState {
  readonly atWork?: readonly CommandAtWork[];
  readonly freeBytes: number;
  readonly diskBytes: number;
  /** Null on a server. */
  readonly storeBytes: number | null;
  readonly decoder: DecoderState;
  /** Null where none are made here. */
  readonly backups: { readonly last: Day | null } | null;
  /** Since the program runs. Units: seconds. */
  readonly ranS: number;
}

/** Of all processes that work on the store, on whatever machine. */
export interface HeartbeatTable {
  list(): Promise<readonly Heartbeat[]>;
  /** Says how the loops of this process are; those who said nothing for a week are forgotten. */
  put(loops: readonly LoopPulse[]): Promise<void>;
  /** Said by a process that ends in order. */
  remove(): Promise<void>;
}

/** Says what long work does and how much of it is left. Awaited, so that whoever waits may interrupt the work. */
export type SayLeft = (what: string, left: number) => Promise<void>;

/** Nobody is told. */
export const SAY_NOTHING: SayLeft = async () => {};
