import type { Question } from '../core/tokens.js';
import type { Taken, TakenAbout } from '../flow/take/ingestFile.js';
import { questionText } from './trayText.js';

const ABOUT: Readonly<Record<TakenAbout, string>> = {
  dismissed: 'This was marked as no ride.',
  indoors: 'It wears no suspension.',
  'no-unit-on-bike': 'No fork or shock was on this bike then. Enter an earlier fitting and it counts.',
  'no-unit-on-any-bike':
    'No fork or shock was on any of the rider’s bikes then. Enter an earlier fitting and it counts.',
  damaged: 'The file is damaged: what could be read of the ride counts.',
  'damaged-and-covered':
    'The file is damaged; another recording of the ride is sound and counts in its place.',
};

/** Returns why a file was taken as it was; null where there is nothing to say. */
export function reasonText({ outcome, code, reason, about, named }: Taken): string | null {
  if (outcome === 'ask') return questionText(code as Question, named);
  return about === null ? reason : ABOUT[about];
}

/** Returns the same of a file that is only looked at. */
export const lookedReason = (code: string | null, outcome: 'ask' | 'ride'): string | null => {
  if (outcome === 'ask') return questionText(code as Question, []);
  return code === null ? null : ABOUT.damaged;
};
