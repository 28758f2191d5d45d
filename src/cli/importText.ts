import type { Imported, ImportKey, NamesByKind } from '../flow/carry/importLedger.js';

/** One and many of each kind, as people say it. */
const WORDS: Readonly<Record<ImportKey, readonly [string, string]>> = {
  workshop: ['workshop', 'workshops'],
  weights: ['set of terrain weights', 'sets of terrain weights'],
  fleets: ['fleet', 'fleets'],
  riders: ['rider', 'riders'],
  bikes: ['bike', 'bikes'],
  serviceKinds: ['service kind', 'service kinds'],
  units: ['unit', 'units'],
  sheets: ['sheet', 'sheets'],
  intervals: ['interval', 'intervals'],
  fittings: ['fitting', 'fittings'],
  memberships: ['membership of a fleet', 'memberships of fleets'],
  gone: ['unit that left or came back', 'units that left or came back'],
  services: ['service', 'services'],
  hours: ['entry of hours', 'entries of hours'],
  unrecorded: ['share of unrecorded riding', 'shares of unrecorded riding'],
  declared: ['declaration of hours', 'declarations of hours'],
  races: ['race', 'races'],
  parts: ['part of a service', 'parts of services'],
  shelf: ['part on the shelf', 'parts on the shelf'],
};

/** Those that have an id or a tag of their own are named, for that is where a slip of the pen shows. */
const NAMED: readonly string[] = ['workshop', 'fleets', 'riders', 'bikes', 'units', 'races'];
const KINDS = Object.keys(WORDS) as ImportKey[];
const MOST_NAMED = 12;

/** Returns what an import did, in lines for people. */
export function importedLines({ ids, added, changed, twins }: Imported): string[] {
  const [plus, other] = [listed(added, NAMED), listed(changed, KINDS)];
  if (plus === '' && other === '')
    return [ids.length === 0 ? 'Nothing new in it.' : `Facts added with their history: ${ids.length}.`];
  return [
    ...(plus === '' ? [] : [`Added: ${plus}.`]),
    ...(other === ''
      ? []
      : [`Changed, because the file says something else: ${other}. Is that what you meant?`]),
    ...twins.map(
      ({ bike, of, name, fact }) =>
        `Bike ${bike} was added beside ${of}, which is called "${name}" too. If it is the same bike, call it ${of} in the file, and take ${bike} back: stanchion void ${fact} --why "same bike"`,
    ),
  ];
}

function listed(names: NamesByKind, named: readonly string[]): string {
  return KINDS.filter((kind) => names[kind] !== undefined)
    .map((kind) => {
      const of = names[kind]!;
      const counted = `${of.length} ${WORDS[kind][of.length === 1 ? 0 : 1]}`;
      const told = of.filter((name) => name !== '');
      return named.includes(kind) && told.length > 0 ? `${counted} (${shortened(told)})` : counted;
    })
    .join(', ');
}

const shortened = (names: readonly string[]): string =>
  names.length <= MOST_NAMED
    ? names.join(', ')
    : `${names.slice(0, MOST_NAMED).join(', ')} and ${names.length - MOST_NAMED} more`;
