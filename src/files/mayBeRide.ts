import { RIDE_FORMATS } from '../core/tokens.js';
import { formatOf } from './sniff.js';

const RIDE_NAME = new RegExp(`\\.(${RIDE_FORMATS.join('|')})(\\.gz)?$`, 'i');

/** Returns whether a file is a ride file by its first bytes or, damaged as it may be, by its name. */
export const mayBeRide = ({ name, bytes }: { readonly name: string; readonly bytes: Uint8Array }): boolean =>
  formatOf(bytes) !== 'other' || RIDE_NAME.test(name);
