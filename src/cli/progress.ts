/** A line on a terminal that says how far a long piece of work is; nothing in a script. */
export interface Progress {
  step(what: string): void;
  /** Says something without the line in its way. */
  above(say: () => void): void;
  done(): void;
}

const EVERY_MS = 100;

export function startProgress(quiet: boolean, noun = 'files'): Progress {
  const shown = !quiet && process.stderr.isTTY;
  const clear = () => (shown ? void process.stderr.write('\r\u001b[2K') : undefined);
  let count = 0;
  let last = 0;
  return {
    step: (what) => {
      count += 1;
      const now = performance.now();
      if (!shown || now - last < EVERY_MS) return;
      last = now;
      const width = (process.stderr.columns ?? 80) - 1;
      process.stderr.write(
        `\r\u001b[2K${`${count} ${noun}  ${what.replace(/\p{Cc}/gu, '?')}`.slice(0, width)}`,
      );
    },
    above: (say) => {
      clear();
      say();
    },
    done: () => clear(),
  };
}
