import type { Command } from 'commander';
import type { Weights } from '../../core/ledger/ledger.js';
import { CLAMP, LANDING_WEIGHT } from '../../core/ledger/weight.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { type ChangedState, changedStates, previewWeights, setWeights } from '../../flow/facts/setWeights.js';
import { getWeights } from '../../flow/settings.js';
import { wordsFor } from '../../languages/index.js';
import type { Stanchion } from '../../main.js';
import type { Store } from '../../ports/store.js';
import { type Instant, isoTime } from '../../units.js';
import { contextOf } from '../context.js';
import { BY_COMMAND, withStanchion } from '../opened.js';
import type { Output } from '../output.js';
import { startProgress } from '../progress.js';

const words = wordsFor('en');

interface WeightsGiven extends Partial<Weights> {
  readonly dry?: boolean;
}

export const weights = async (options: WeightsGiven, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const { dry = false, ...given } = options;
    const standing = await stanchion.store.read(getWeights);
    const wanted = { ...standing, ...given };
    if (Object.keys(given).length === 0 && !dry) return showWeights(out, stanchion.store, standing);
    if (dry) return showChanges(out, wanted, await preview(stanchion, wanted), [], true);
    const { ids, changes } = await save(stanchion, wanted);
    showChanges(out, wanted, changes, ids, false);
  });
};

/** A unit at a time, each in a short transaction, so that others are not held up. */
async function preview({ store, clock }: Stanchion, weights: Weights): Promise<ChangedState[]> {
  const now = clock.now();
  const unitIds = await store.read(async (tx) => (await tx.facts.list('unit')).map((unit) => unit.entityId));
  const progress = startProgress('units');
  progress.expect(unitIds.length);
  const changes: ChangedState[] = [];
  for (const unitId of unitIds) {
    progress.step('');
    changes.push(...(await store.read((tx) => previewWeights(tx, unitId, weights, now))));
  }
  progress.done();
  return changes.sort(byUnit);
}

async function save(
  stanchion: Stanchion,
  weights: Weights,
): Promise<{ readonly ids: string[]; readonly changes: ChangedState[] }> {
  const { store, clock } = stanchion;
  await refreshAllDue(stanchion);
  const before = await store.read((tx) => tx.standings.list());
  const id = await store.write((tx) => setWeights(tx, weights, { by: BY_COMMAND, at: clock.now() }));
  await refreshAllDue(stanchion);
  return store.read(async (tx) => {
    const tags = new Map((await tx.facts.list('unit')).map((unit) => [unit.entityId, unit.body.tag]));
    const changes = changedStates(tags, before, await tx.standings.list());
    return { ids: id === null ? [] : [id], changes: changes.sort(byUnit) };
  });
}

const byUnit = (a: ChangedState, b: ChangedState): number =>
  `${a.unit} ${a.serviceKind}` < `${b.unit} ${b.serviceKind}` ? -1 : 1;

function showChanges(
  out: Output,
  weights: Weights,
  changes: readonly ChangedState[],
  ids: readonly string[],
  isDry: boolean,
): void {
  out.object({
    did: isDry ? 'nothing' : 'weights',
    ids,
    problems: [],
    weights,
    changes: changes.map(({ unitId: _id, ...change }) => change),
  });
  out.line(
    `An hour weighs ${weights.smooth} on smooth, ${weights.typical} on typical and ${weights.rough} on rough ground${isDry ? ' if you set it so' : ''}.`,
  );
  out.line(
    `Each second in the air before a landing adds ${weights.landing ?? LANDING_WEIGHT} terrain seconds.`,
  );
  if (weights.rough > CLAMP.high)
    out.line(`Above ${CLAMP.high} only on a fleet’s bikes; on others an hour counts ${CLAMP.high} at most.`);
  if (changes.length === 0) {
    out.line(isDry ? 'No unit would change state.' : 'No unit changed state.');
    return;
  }
  out.table(
    ['unit', 'service', 'before', 'after'],
    changes.map((change) => [
      change.unit,
      words.serviceKind(change.serviceKind),
      words.state[change.before],
      words.state[change.after],
    ]),
  );
  if (isDry) out.line('Nothing was changed. Leave out --dry to change it.');
}

async function showWeights(out: Output, store: Store, standing: Weights): Promise<void> {
  const versions = await store.read((tx) => tx.facts.versions('weights'));
  const history = versions
    .toSorted((a, b) => a.seq - b.seq)
    .map(({ body, recordedBy, recordedAt }) => ({
      ...body,
      by: recordedBy,
      at: isoTime(recordedAt as Instant),
    }));
  const isDefault = history.length === 0;
  out.object({ landing: LANDING_WEIGHT, ...standing, isDefault, history });
  out.line(
    'Terrain weights: what an hour counts, by how hard the ground works the suspension (an estimate).',
  );
  out.table(
    ['smooth', 'typical', 'rough', 'landing', 'set by', 'at (UTC)'],
    isDefault
      ? [[...weightCells(standing), 'default', '']]
      : history.map((one) => [...weightCells(one), one.by, one.at]),
  );
}

const weightCells = ({ smooth, typical, rough, landing = LANDING_WEIGHT }: Weights): string[] =>
  [smooth, typical, rough, landing].map(String);
