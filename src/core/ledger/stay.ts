import { dayOf } from '../days/calendar.js';
import type { JobStep } from '../tokens.js';
import type { Fact, JobFact } from './facts.js';

/** A unit's stay at the workshop that has not ended. */
export interface Stay {
  /** Null where a program from before jobs wrote it. */
  readonly factId: string | null;
  readonly job: JobFact;
}

/** What a stay begins with where nothing is said. */
export const NOTHING_SAID = {
  wish: null,
  promisedFor: null,
  price: null,
  missing: null,
  informedBy: null,
} as const satisfies Partial<JobFact>;

/** Returns the stay of a unit that has not ended. Shape: what is in force of one unit, in order of entry. */
export function stayOf(
  jobs: readonly Fact<'job'>[],
  benches: readonly Fact<'bench'>[],
  zone: string,
): Stay | null {
  const [job, bench] = [jobs.at(-1), benches.at(-1)];
  if (job && (!bench || job.since >= bench.since))
    return job.body.step === 'collected' ? null : { factId: job.id, job: job.body };
  if (!bench?.body.in) return null;
  const { unitId } = bench.body;
  const arrivedOn = dayOf(bench.since, zone);
  return { factId: null, job: { unitId, step: 'arrived', arrivedOn, ...NOTHING_SAID } };
}

/** What a step is usually followed by beside the service, the first the likeliest; any other may follow too. */
export const NEXT_STEPS: Readonly<Record<JobStep, readonly JobStep[]>> = {
  arrived: ['on-the-bench', 'waits-for-parts'],
  'on-the-bench': ['waits-for-parts'],
  'waits-for-parts': ['on-the-bench'],
  done: ['informed', 'collected'],
  informed: ['collected'],
  collected: [],
};
