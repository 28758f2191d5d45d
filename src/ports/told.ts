/** How long work says how far it is. */

/** Says what is done and how much of it is left. Awaited, so that whoever waits may interrupt the work. */
export type Told = (what: string, left: number) => Promise<void>;

/** Nobody is told. */
export const UNTOLD: Told = async () => {};
