import { hasUnseen } from '../../core/lines.js';

/** Returns why a member's name would lead out of its archive or hides what it is; null for a name that does not. */
export function unsafeNameReason(name: string): string | null {
  if (hasUnseen(name)) return 'Its name holds characters that cannot be seen.';
  if (
    name.includes('\\') ||
    name.startsWith('/') ||
    /^[a-z]:/i.test(name) ||
    name.split('/').includes('..')
  ) {
    return 'Its name is a path that leads out of the archive.';
  }
  return null;
}
