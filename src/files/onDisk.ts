import { ServiceError } from '../errors.js';

/** An error of the archive's own is said in the answer; one of the disk is no fault of the file. */
export function throwIfDiskFailed(error: unknown): void {
  if (!(error instanceof Error) || !('syscall' in error)) return;
  throw new ServiceError('disk-failed', error.message, { cause: error });
}

/** Returns what the work on a file returns. Errors: ServiceError `disk-failed`. */
export async function onDisk<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throwIfDiskFailed(error);
    throw error;
  }
}
