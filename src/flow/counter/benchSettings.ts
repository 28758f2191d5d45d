import type { Seal } from '../../ports/seal.js';
import type { Tx } from '../../ports/store.js';
import { getFeedPath } from '../mail/links.js';
import { getSettingsPage, type SettingsPage } from '../settings.js';

/** What the page of what the bench can take shows. */
export interface BenchSettings extends Pick<SettingsPage, 'fact'> {
  /** Of the bookings' calendar; null where there is none. */
  readonly path: string | null;
}

export async function getBenchSettings(tx: Tx, seal: Seal | null): Promise<BenchSettings> {
  const { fact } = await getSettingsPage(tx);
  return { fact, path: seal === null ? null : await getFeedPath(tx, seal) };
}
