/** Reads mails as a person does, block by block; what no rule knows is thrown, so that nothing goes unlooked at. */
import { mailTextsFor, wordsFor } from '../../../../src/languages/index.js';
import type { Kind } from './pencil.js';

export const words = wordsFor('en');
const texts = mailTextsFor('en');
const KINDS: readonly Kind[] = ['lower-leg', 'air-spring', 'damper', 'full', 'air-sleeve', 'bushings'];
export const kindOf = (job: string): Kind => {
  const kind = KINDS.find((one) => words.serviceKind(one) === job);
  if (!kind) throw new Error(`no job is called ${job}`);
  return kind;
};

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);
/** Returns a day as mails write it, `12 June` or `12 June 2025`; without a year it is of this one. */
export function dayIn(text: string, today: string): string {
  const [, d, month = '', y] = /^(?:[A-Z][a-z]+day,? )?(\d+) ([A-Z][a-z]+)(?: (\d{4}))?$/.exec(text) ?? [];
  const m = MONTHS.indexOf(month) + 1;
  if (!d || m === 0) throw new Error(`no day: ${text}`);
  return `${y ?? today.slice(0, 4)}-${String(m).padStart(2, '0')}-${d.padStart(2, '0')}`;
}

export const flat = (text: string): string => text.replace(/\s+/g, ' ').trim();
/** A block's lines, with those that go on put back together. */
export const linesOf = (block: string): string[] =>
  block
    .replace(/\n {2,}/g, ' ')
    .split('\n')
    .map((line) => line.trimEnd());
const strings = (of: unknown): string[] =>
  typeof of === 'string'
    ? [of]
    : typeof of === 'object' && of !== null
      ? Object.values(of).flatMap(strings)
      : [];
const CAUTIONS = new Set(strings(texts.cautions).map(flat));
const JOBS = new Set(Object.values(texts.reminder.jobs).map(flat));
export const blocksOf = (text: string): string[] => text.replaceAll('\u00a0', ' ').trim().split(/\n\n+/);

export const LINK = /^[A-Za-z ,?]+:? https:\/\/bench\.example\.org\/r\/(\w+)\/\S+$/;
/** What stands in every mail and tells nothing of a unit. */
export function isFrame(block: string): boolean {
  const said = flat(block);
  if (/^Hello Rider \d+,$/.test(said) || said.startsWith('-- Test bench')) return true;
  if (linesOf(block).every((line) => CAUTIONS.has(flat(line.replace(/^- /, ''))))) return true;
  if (JOBS.has(said.replace(` ${texts.reminder.bring}`, ''))) return true;
  if (said === flat(texts.estimateNote)) return true;
  const [title, ...items] = linesOf(block);
  return title === `${texts.reminder.theJobs}:` && items.every((one) => /^- (Bring|[A-Z])/.test(one));
}
