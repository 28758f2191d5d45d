import { type FindingName, lookNow } from '../core/ledger/findings.js';
import { eveningOf, momentOf } from '../core/ledger/moment.js';
import type { Rows } from '../flow/facts/ledgerDocument.js';
import type { StoryLine } from '../flow/facts/unitStory.js';
import { pageTextsFor, wordsFor } from '../languages/index.js';
import type { Moment } from '../units.js';

const words = wordsFor('en');
const { looks, inspect } = pageTextsFor('en');

/** Returns what one line of a unit's service book tells, in a sentence's length. */
export function storyText(line: StoryLine, zone: string): string {
  switch (line.kind) {
    case 'unit':
      return unitText(line.row);
    case 'fitting':
      return fittingText(line.row, zone);
    case 'service':
      return serviceText(line.row);
    case 'mark':
      return line.row.stop ? `stop riding: ${line.row.why}` : `stop mark cleared: ${line.row.why}`;
    case 'inspection':
      return inspectionText(line.row);
    case 'membership':
      return `${line.row.fleet === null ? 'of no fleet' : `of fleet ${line.row.fleet}`}${line.row.from === null ? '' : ` from ${line.row.from}`}`;
    case 'gone':
      return line.row.how === 'back'
        ? `back on ${line.row.on}`
        : `${words.gone[line.row.how]} on ${line.row.on}`;
    case 'bench':
      return line.row.in ? 'came to the workshop' : 'left the workshop';
    case 'job':
      return jobText(line.row);
    case 'claim':
      return told([
        `claim under warranty: ${line.row.what}`,
        line.row.step,
        line.row.sentTo,
        line.row.answer,
      ]);
    case 'interval':
      return intervalText(line.row);
    default:
      return line.kind;
  }
}

function fittingText({ bike, from, to }: Rows['fitting'], zone: string): string {
  const say = (moment: Moment): string => {
    const evening = eveningOf(momentOf(moment, zone)!, zone);
    return evening === null ? moment : `${evening} (after the last ride)`;
  };
  return `on bike ${bike} from ${say(from)}${to === null ? '' : ` to ${say(to)}`}`;
}

const told = (parts: readonly (string | null | undefined | false)[]): string =>
  parts.filter((part) => part).join('; ');

function unitText({
  tag,
  unitKind,
  model,
  serial,
  history,
  factor,
  warrantyEnd,
  travelMm,
  modelYear,
  spec,
}: Rows['unit']): string {
  const known =
    typeof history === 'string'
      ? `history ${history}`
      : `${history.terrainHours} terrain and ${history.movingHours} moving hours on ${history.asOf}`;
  return told([
    [tag, words.unitKind[unitKind], model].filter((part) => part).join(' '),
    serial && `serial ${serial}`,
    modelYear !== undefined && `model year ${modelYear}`,
    travelMm !== undefined && `${travelMm} mm travel`,
    known,
    factor !== 1 && `factor ${factor}`,
    warrantyEnd && `warranty to ${warrantyEnd}`,
    ...Object.entries(spec ?? {}).map(([name, value]) => `${name}: ${value}`),
  ]);
}

function serviceText(row: Rows['service']): string {
  const restarts = row.restarts ?? [];
  return told([
    `${words.serviceKind(row.serviceKind)}${row.by === 'here' ? '' : `, done ${words.doneBy[row.by]}`}`,
    restarts.length === 0 ? 'restarts nothing' : `restarts ${restarts.join(', ')}`,
    ...Object.entries(row.findings ?? {}).map(([name, value]) => foundText(name as FindingName, value)),
    ...(row.parts ?? []).map(
      ({ part, count, measure }) => `${count}${measure === 'ml' ? ' ml' : ' ×'} ${part}`,
    ),
    row.technician && `technician ${row.technician}`,
    row.price && `price ${row.price}`,
    row.note,
  ]);
}

const inspectionText = ({ cause, findings, serial, result, by, note }: Rows['inspection']): string =>
  told([
    `${inspect[cause].book} by ${by}`,
    result && inspect.results[result],
    ...Object.entries(findings).map(([name, value]) => foundText(name as FindingName, value)),
    serial && `serial ${serial}`,
    note,
  ]);

function foundText(name: FindingName, value: string): string {
  const words: Readonly<Record<string, string>> = looks.words[name] ?? {};
  return `${(looks.names[name] ?? name).toLowerCase()}: ${words[lookNow(name, value)] ?? value}`;
}

const jobText = ({ arrivedOn, step, wish, promisedFor, price, missing }: Rows['job']): string =>
  told([
    `at the workshop since ${arrivedOn}: ${words.jobStep[step]}`,
    wish && `wish: ${wish}`,
    promisedFor && `promised for ${promisedFor}`,
    price && `price ${price}`,
    missing && `missing: ${missing}`,
  ]);

function intervalText({ serviceKind, terrainHours, months }: Rows['interval']): string {
  const limits = [
    terrainHours !== null && `${terrainHours} h`,
    months !== null && words.counted(months, 'month'),
  ];
  const shown = limits.filter((limit) => limit);
  return `interval of its own, ${words.serviceKind(serviceKind)}: ${shown.length === 0 ? 'none' : shown.join(' or ')}`;
}
