import { keptFiles } from './kept.js';
import { bytesOf, entriesOf } from './zipEntries.js';

/**
 * Sends ride files in portions and says of each what became of it; of a zip only what may be rides. A lost signal is waited
 * out. Without it the form sends them all at once.
 *
 * @typedef {{ readonly file: string, readonly says: string, readonly asks: boolean }} Answer
 * @typedef {{ readonly fault?: string, readonly answers: readonly Answer[], readonly sum: string }} Told
 * @typedef {{ readonly name: string, readonly bytes: Blob }} Piece
 */

/**
 * @template {HTMLElement} T
 * @param {string} id
 * @param {new () => T} kind
 * @returns {T}
 */
function part(id, kind) {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`The page has no ${id}.`);
  return found;
}

const form = part('send', HTMLFormElement);
const shown = part('answers', HTMLElement);
const progress = part('progress', HTMLElement);
const sum = part('sum', HTMLElement);
const each = part('each', HTMLDetailsElement);
const input = part('files', HTMLInputElement);
const [rows] = shown.getElementsByTagName('tbody');
const [button] = form.getElementsByTagName('button');
const says = form.dataset;

const MOST_BYTES = Number(says.mostBytes);
/** A portion is small, so that little is sent again after a signal was lost. */
const PORTION = { files: 12, bytes: 4_000_000 };
/** So many answers are shown one by one; more are folded under their sum. */
const SHOWN_OPEN = 9;
/** Seconds before it is tried again; then as the last. */
const WAITS = [2, 4, 8, 15, 30];
const MOST_TRIES = 200;
/** Busy, too slow, or too much in a quarter of an hour: nothing was taken, and it may be later. */
const LATER = [408, 429, 502, 503, 504];

/**
 * Adds a line to the table.
 *
 * @param {string} name
 * @param {string | undefined} text
 */
function add(name, text) {
  const row = /** @type {HTMLTableSectionElement} */ (rows).insertRow();
  row.setAttribute('role', 'row');
  const head = document.createElement('th');
  head.scope = 'row';
  head.setAttribute('role', 'rowheader');
  head.textContent = name;
  head.className = 'long';
  row.append(head);
  const cell = row.insertCell();
  cell.setAttribute('role', 'cell');
  cell.dataset.label = says.answer;
  const told = document.createElement('div');
  told.textContent = text ?? '';
  cell.append(told);
  each.open = /** @type {HTMLTableSectionElement} */ (rows).rows.length <= SHOWN_OPEN;
  return row;
}

/**
 * @param {string | undefined} text
 * @param {Readonly<Record<string, string | number>>} values
 */
const filled = (text, values) =>
  Object.entries(values).reduce((all, [name, value]) => all.replace(`{${name}}`, String(value)), text ?? '');

const RIDE_NAME = new RegExp(`\\.(${says.formats})(\\.gz)?$`, 'i');
/** What an export holds beside rides is not even unpacked. */
const OTHER_NAME =
  /\.(jpe?g|png|gif|heic|webp|mp4|mov|avi|csv|tsv|json|html?|txt|pdf|xlsx?|docx?|js|css|md|vcf|ics)$/i;

/**
 * @param {string} name
 * @param {Uint8Array} bytes
 */
function mayBeRide(name, bytes) {
  const head = String.fromCharCode(...bytes.subarray(0, 2000));
  const isGzip = head.startsWith('\x1f\x8b');
  const isZip = head.startsWith('PK\x03\x04');
  return (
    RIDE_NAME.test(name) ||
    head.slice(8, 12) === '.FIT' ||
    isGzip ||
    isZip ||
    /^[^<]*<[\s\S]*<?(gpx|TrainingCenterDatabase)\b/.test(head)
  );
}

/** @param {File} file */
const isZip = async (file) =>
  new Uint8Array(await file.slice(0, 4).arrayBuffer()).join() === '80,75,3,4' &&
  typeof DecompressionStream === 'function';

/**
 * Yields what is to be sent of the files that were chosen, one at a time; `count` grows as more is found.
 *
 * @param {readonly File[]} files
 * @param {{ count: number }} all
 * @returns {AsyncGenerator<Piece>}
 */
async function* piecesOf(files, all) {
  for (const file of files) {
    if (await isZip(file)) {
      const found = await zipPieces(file, all);
      if (found !== null) {
        yield* found;
        continue;
      }
    }
    if (file.size > MOST_BYTES) add(file.name, says.tooLarge);
    else {
      all.count += 1;
      yield { name: file.name, bytes: file };
    }
  }
}

/**
 * Returns what may be rides in a zip; null where it cannot be read here, for it may still be sent whole.
 *
 * @param {File} file
 * @param {{ count: number }} all
 * @returns {Promise<AsyncGenerator<Piece> | null>}
 */
async function zipPieces(file, all) {
  const entries = await entriesOf(file).catch(() => null);
  if (entries === null || entries.length === 0) return null;
  const inside = entries.filter(
    ({ name }) => !name.endsWith('/') && !/(^|\/)(__MACOSX\/|\.[^/]*$)/.test(name),
  );
  const wanted = inside.filter(({ name }) => !OTHER_NAME.test(name));
  all.count += wanted.length;
  let others = inside.length - wanted.length;
  const pieces = async function* () {
    for (const entry of wanted) {
      const name = `${file.name}/${entry.name}`;
      const bytes = entry.size > MOST_BYTES ? null : await bytesOf(file, entry).catch(() => null);
      if (bytes !== null && mayBeRide(entry.name, bytes)) {
        yield { name, bytes: new Blob([bytes]) };
        continue;
      }
      all.count -= 1;
      if (bytes !== null) others += 1;
      else add(name, entry.size > MOST_BYTES ? says.tooLarge : says.unreadable);
    }
    if (others > 0) add(file.name, filled(others === 1 ? says.otherOne : says.otherMany, { count: others }));
  };
  return pieces();
}

/** @param {number} seconds */
const waited = (seconds) =>
  new Promise((resolve) => {
    setTimeout(resolve, seconds * 1000);
    addEventListener('online', resolve, { once: true });
  });

/**
 * Sends a portion until it is answered: what arrived twice counts once.
 *
 * @param {readonly Piece[]} pieces
 * @returns {Promise<Told | null>}
 */
async function sent(pieces) {
  const body = new FormData();
  for (const { name, bytes } of pieces) body.append('files', bytes, name);
  const bike = form.elements.namedItem('bike');
  if (bike instanceof HTMLSelectElement) body.append('bike', bike.value);
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const response = await fetch(form.action, {
      method: 'POST',
      body,
      headers: { accept: 'application/json' },
    }).catch(() => null);
    if (response !== null && !LATER.includes(response.status))
      return /** @type {Promise<Told | null>} */ (response.json().catch(() => null));
    progress.textContent = says.waiting ?? '';
    await waited(WAITS[Math.min(tries, WAITS.length - 1)] ?? 30);
  }
  return null;
}

/**
 * @param {readonly Piece[]} pieces
 * @param {Told | null} told
 */
function tell(pieces, told) {
  const fault = told === null ? says.broken : told.fault;
  if (told === null || fault !== undefined) {
    for (const { name } of pieces) add(name, fault);
    return;
  }
  for (const one of told.answers) {
    add(one.file, one.says);
    if (one.asks) part('to-answer', HTMLElement).hidden = false;
  }
  sum.textContent = told.sum;
}

/**
 * Sends files and says of each what became of it. Returns whether all of them arrived.
 *
 * @param {readonly File[]} files
 */
async function sendAll(files) {
  const all = { count: 0 };
  let done = 0;
  let isWhole = true;
  /** @type {Piece[]} */
  let portion = [];
  const show = () => {
    progress.textContent = filled(says.progress, { sent: done, all: Math.max(done, all.count) });
  };
  const flush = async () => {
    if (portion.length === 0) return;
    const told = await sent(portion);
    isWhole &&= told !== null;
    tell(portion, told);
    done += portion.length;
    portion = [];
    show();
  };
  for await (const piece of piecesOf(files, all)) {
    show();
    portion.push(piece);
    const bytes = portion.reduce((whole, one) => whole + one.bytes.size, 0);
    if (portion.length >= PORTION.files || bytes >= PORTION.bytes) await flush();
  }
  await flush();
  show();
  return isWhole;
}

form.addEventListener('submit', async (event) => {
  event.preventDefault();
  if (button) button.disabled = true;
  const files = [...(input.files ?? [])];
  rows?.replaceChildren();
  sum.textContent = '';
  shown.hidden = false;
  shown.scrollIntoView();
  await sendAll(files);
  if (button) button.disabled = false;
  input.value = '';
});

/** Shows what was shared as waiting, sends it, and lets go of each once its answer is shown. */
async function sendShared() {
  const kept = await keptFiles();
  if (kept.length === 0) return;
  shown.hidden = false;
  const waiting = new Map(
    kept.map(({ id, name, blob }) => [id, blob === null ? null : add(name, says.kept)]),
  );
  await navigator.locks.request('own-send', async () => {
    // The worker may have sent some meanwhile.
    for (const { id, name, blob, told } of await keptFiles()) {
      const isDone = blob === null || (await sendAll([new File([blob], name)]));
      if (blob === null) tellKept(name, told);
      waiting.get(id)?.remove();
      if (isDone) await keptFiles([id]);
    }
  });
}

/**
 * @param {string} name
 * @param {{ readonly fault?: string, readonly answers?: readonly { readonly says: string, readonly asks: boolean }[] } | null} told
 */
function tellKept(name, told) {
  for (const { says: text, asks } of told?.answers ?? [{ says: told?.fault ?? '', asks: false }]) {
    add(name, text);
    if (asks) part('to-answer', HTMLElement).hidden = false;
  }
}

await sendShared();
