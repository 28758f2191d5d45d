/** Ends with 1 where the program answers that only a start anew mends it, or no longer answers: for the timer of its service. */
const TRIES = 3;
const WAIT_MS = Number(process.env.STANCHION_WATCH_WAIT_MS ?? 20_000);
const url = `http://127.0.0.1:${process.env.PORT ?? 8321}/healthz`;

/** Nobody who listens is no fault to mend here: it starts, brings its tables up to date, or the service starts it again. */
async function isStanding(): Promise<boolean> {
  try {
    return !(await fetch(url, { signal: AbortSignal.timeout(WAIT_MS) })).ok;
  } catch (error) {
    return error instanceof Error && error.name === 'TimeoutError';
  }
}

let standing = 0;
while (standing < TRIES && (await isStanding())) {
  standing += 1;
  if (standing < TRIES) await new Promise((later) => setTimeout(later, WAIT_MS));
}
if (standing === TRIES) process.stderr.write(`stanchion: ${url} was red ${TRIES} times.\n`);
process.exitCode = standing === TRIES ? 1 : 0;
