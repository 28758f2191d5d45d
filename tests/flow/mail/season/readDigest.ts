/** Reads the workshop's list of the day to the last line. */
import type { Kind } from './pencil.js';
import { blocksOf, flat, isFrame, kindOf, linesOf } from './readMail.js';

export interface ReadRow {
  lead: string;
  between: string | null;
  isNew: boolean;
  whose: string;
  tag: string;
  kind: Kind;
  state: string;
  hours: string;
  limit: string | null;
}
export interface ReadDigest {
  stopped: { whose: string; tag: string; isNew: boolean }[];
  summary: string;
  rows: ReadRow[];
  calls: { rider: string; phone: string; tag: string; kind: Kind; state: string; reason: string }[];
}

const LEAD = /^(.+?)(?: \((.+?)\))?( \* new)?$/;
const CALL = /^- (Rider \d+)(?:, (\+[\d ]+))?: ([FA]-\d+) (.+), ([a-z ]+) \((.+)\)$/;
const STOPPED = /^! - (.+): ([FA]-\d+) (?:fork|air shock)( \(new\))?$/;

/** Reads the workshop's list of the day. Errors: Error for a block that no rule knows. */
export function readDigest(text: string): ReadDigest {
  const digest: ReadDigest = { stopped: [], summary: '', rows: [], calls: [] };
  for (const block of blocksOf(text)) {
    const [lines, said] = [linesOf(block), flat(block)];
    if (
      isFrame(block) ||
      said.startsWith('The date may turn out early or late') ||
      said.startsWith('By date ---')
    )
      continue;
    if (said.startsWith('Open the list: ')) continue;
    if (lines[0] === '! Stop riding: to be checked first')
      for (const line of lines.slice(1)) {
        const [, whose = '', tag = '', isNew] = STOPPED.exec(line)!;
        digest.stopped.push({ whose, tag, isNew: isNew !== undefined });
      }
    else if (/^(\d+ new|Nothing is due)/.test(said)) digest.summary = said;
    else if (lines[0] === 'Please call: mail does not reach them:')
      for (const line of lines.slice(1)) {
        const [, rider = '', phone = '', tag = '', job = '', state = '', reason = ''] = CALL.exec(line) ?? [];
        if (rider === '') throw new Error(`no call: ${line}`);
        digest.calls.push({ rider, phone, tag, kind: kindOf(job), state, reason });
      }
    else digest.rows.push(readRow(block));
  }
  return digest;
}

function readRow(block: string): ReadRow {
  const [first = '', whose = '', job = '', hours = '', limit = null, ...more] = block
    .split(/\n {2}/)
    .map(flat);
  const [, lead = '', between = null, isNew] = LEAD.exec(first)!;
  const [, tag = '', what = ''] = /^([FA]-\d+) (?:fork|air shock): (.+)$/.exec(job) ?? [];
  const [, state = '', said = ''] = /^([A-Z][a-z ]+): (.+)$/.exec(hours) ?? [];
  if (tag === '' || said === '' || more.length > 0) throw new Error(`unread row: ${block}`);
  return {
    lead,
    between,
    isNew: isNew !== undefined,
    whose,
    tag,
    kind: kindOf(what),
    state: state.toLowerCase(),
    hours: said,
    limit,
  };
}
