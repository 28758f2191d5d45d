/** How a command ends that is asked to, by Ctrl-C or by whoever stops services: it says what stands, and how to go on. */
import { ServiceError } from '../errors.js';
import type { Output } from './output.js';

const SIGNALS = ['SIGINT', 'SIGTERM'] as const;

/** What is told of work that was interrupted. */
export interface WhatStands {
  readonly message: string;
  readonly hint: string;
}

export interface Listening {
  done(): void;
}

/** The second time it is asked, the process ends as it stands: nothing is marked as done before it is. */
function listen(onAsked: () => void): Listening {
  for (const signal of SIGNALS) process.once(signal, onAsked);
  return {
    done: () => {
      for (const signal of SIGNALS) process.removeListener(signal, onAsked);
    },
  };
}

/** Notes that the command was asked to end, for work that then finishes what it has begun. */
export function noteAsked(): Listening & { readonly isAsked: boolean } {
  let isAsked = false;
  const { done } = listen(() => {
    isAsked = true;
  });
  return {
    get isAsked() {
      return isAsked;
    },
    done,
  };
}

export const interrupted = ({ message, hint }: WhatStands): ServiceError =>
  new ServiceError('interrupted', message, { hint });

/**
 * Does work that may end at any moment. When it is asked to end, the process does so at once and says what stands: the
 * store undoes what was begun, half a file is removed, and what else is left is noted.
 */
export async function unlessInterrupted<T>(
  out: Output,
  stands: WhatStands,
  work: () => Promise<T>,
): Promise<T> {
  const { done } = listen(() => {
    const { code, message, hint = null } = interrupted(stands);
    out.object({ error: { code, message, hint } });
    out.complain(`stanchion: ${message}\n${hint}`);
    process.exit(1);
  });
  try {
    return await work();
  } finally {
    done();
  }
}
