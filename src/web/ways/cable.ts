/** A recorder's folder, read at the workshop: many files of one or of several riders at once. */
import type { Context } from 'hono';
import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import type { ToldOutcome } from '../../core/tokens.js';
import { type Taken, toldOutcome } from '../../flow/take/ingestFile.js';
import { logTaken } from '../../flow/take/logTaken.js';
import { toldOf } from '../../flow/take/pathTold.js';
import { Slowness, takeMembers } from '../../flow/take/takePath.js';
import { riderNamed } from '../../flow/take/ways.js';
import { fileWhy } from '../../languages/fileText.js';
import { riderTextsFor } from '../../languages/index.js';
import { refreshSome, writeAsAllowed } from '../change.js';
import type { RiderDeps, WebDeps } from '../deps.js';
import { LastTold } from '../door/lastTold.js';
import { type NotReceived, type Received, receiving } from '../door/receive.js';
import { gate } from '../gate.js';
import { type Markup, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { isFormToken } from '../signIn/session.js';
import type { Viewer, WebEnv } from '../viewer.js';

/** A recorder keeps some years of rides. */
const MOST_FILES = 2000;
const MOST_MB = 400;
const MOST_NAMED = 50;
/** One is read at a time, and another may wait. */
const READ = [1, 1] as const;

/** What was read last, without what holds nothing to take. */
interface Read {
  readonly counts: ReadonlyMap<ToldOutcome, number>;
  readonly named: readonly Taken[];
}

type NotRead = NotReceived | 'need' | 'busy' | 'tooLarge';

/**
 * Adds the form that takes them; whoever is not known by it is asked about in the tray. Returns what the page that follows
 * says of them, which a reload asks for again without sending anything.
 */
export function readCable(
  pages: Pages,
  deps: WebDeps,
  show: (viewer: Viewer, fault: string) => Promise<Markup>,
): (viewer: Viewer) => Markup {
  const { rider } = deps;
  const last = new LastTold<Read>();
  const turn = gate(...READ);
  pages.post('/ways/files', async (c) => {
    const viewer = c.get('viewer');
    if (rider === undefined) throw new HTTPException(404);
    const into = {
      ...{ parts: rider.parts, mayCome: () => true, mostFiles: MOST_FILES, mostMb: MOST_MB },
    };
    const read = await receiving(c, into, async ({ files, fields }) => {
      if (!isFormToken(viewer.formToken, fields.token ?? '')) throw new HTTPException(403);
      if (files.length === 0) return 'need' as const;
      const riderId = await riderOf(deps, c, fields.rider ?? '');
      return turn(() => takeAll(deps, rider, files, riderId));
    }).catch(unlessTooLarge);
    if (read === null || typeof read === 'string')
      return c.html(await show(viewer, faultText(viewer, read ?? 'busy')), 422);
    last.keep(viewer.formToken, readOf(read), viewer.now);
    return c.redirect('/ways?read', 303);
  });
  return (viewer) => readMarkup(viewer, last.of(viewer.formToken, viewer.now));
}

/** Asks again who sends them, and whose rides they are said to be; null: nobody's in particular. */
const riderOf = (deps: WebDeps, c: Context<WebEnv>, riderId: string): Promise<string | null> =>
  writeAsAllowed(deps, c, (tx) => riderNamed(tx, riderId));

function unlessTooLarge(error: unknown): 'tooLarge' | 'notWhole' {
  const status = error instanceof HTTPException ? error.status : 0;
  if (status === 413) return 'tooLarge';
  if (status === 408 || status === 400) return 'notWhole';
  throw error;
}

async function takeAll(
  deps: WebDeps,
  { reader, originals }: RiderDeps,
  files: readonly Received[],
  riderId: string | null,
): Promise<Taken[]> {
  const { store, clock, log } = deps;
  const how = {
    ...{ riderId, bikeId: null, rule: null, way: 'cable' as const },
    ...(riderId !== null && { riderRule: 'chosen' as const }),
  };
  const slowness = new Slowness();
  const all: Taken[] = [];
  const began = performance.now();
  // Beside its rides a recorder keeps settings, maps and pictures.
  for (const { name, part } of files)
    for await (const one of takeMembers(
      { store, clock, reader, originals },
      reader.open(part.path, name),
      () => how,
      slowness,
    ))
      if (one.outcome !== 'set-aside' || one.code !== 'not-fit-or-gpx') all.push(one);
  await logTaken({ store, log }, all, { riderId, ms: performance.now() - began });
  await refreshSome(deps);
  return all;
}

function readOf(taken: readonly Taken[]): Read {
  const counts = new Map<ToldOutcome, number>();
  for (const one of taken) counts.set(toldOutcome(one), (counts.get(toldOutcome(one)) ?? 0) + 1);
  const named = taken.filter(({ outcome }) => outcome === 'ask' || outcome === 'set-aside');
  return { counts, named: named.slice(0, MOST_NAMED) };
}

function readMarkup(viewer: Viewer, read: Read | undefined): Markup {
  const { cable } = viewer.texts.ways;
  const { files } = riderTextsFor(viewer.words.language).own;
  const toTray = html`<p><a class="button" href="/tray">${cable.toTray}</a></p>`;
  const heading = html`<h2 id="read">${cable.done}</h2>`;
  if (read === undefined)
    return html`<section role="status">${heading}<p>${cable.longAgo}</p>${toTray}</section>`;
  const { counts, named } = read;
  return html`<section role="status">${heading}
${
  counts.size === 0
    ? html`<p>${cable.noRides}</p>`
    : html`<ul>${[...counts].map(
        ([outcome, count]) => html`<li>${viewer.words.counted(count, 'file')}: ${files.said[outcome]}</li>`,
      )}</ul>`
}
${when(
  named.length > 0,
  () =>
    html`<details><summary>${cable.named}</summary><ul>${named.map(
      (one) =>
        html`<li><span class="long">${one.file}</span>: ${[files.said[toldOutcome(one)], fileWhy(files, toldOf(one))].filter((text) => text !== '').join(' ')}</li>`,
    )}</ul></details>`,
)}
${when(counts.has('ask'), () => toTray)}</section>`;
}

function faultText(viewer: Viewer, why: NotRead): string {
  const { need, refused } = viewer.texts.ways.cable;
  if (why === 'need') return need;
  if (why === 'tooMany') return refused.tooMany(viewer.words.counted(MOST_FILES, 'file'));
  if (why === 'tooLarge') return refused.tooLarge(viewer.words.number(MOST_MB));
  return why === 'notWhole' ? refused.broken : refused.busy;
}
