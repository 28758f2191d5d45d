/**
 * Works for a rider's page on a device that keeps it, also with the tab closed: shows the last known state without a
 * connection, and keeps ride files that were shared until they are sent. All it keeps goes when the page no longer knows
 * this device: after *forget*, after *not on this device*, or once its links were taken back.
 *
 * @typedef {{ readonly id: number, readonly name: string, readonly blob: Blob | null, readonly told: Told | null }} Kept
 * @typedef {{ readonly fault?: string, readonly answers?: readonly { readonly says: string, readonly asks: boolean }[] }} Told
 * @typedef {Event & { readonly request: Request, respondWith(answer: Promise<Response>): void, waitUntil(work: Promise<unknown>): void }} Fetching
 * @typedef {Event & { waitUntil(work: Promise<unknown>): void }} Working
 * @typedef {Event & { readonly data: unknown, readonly ports: readonly MessagePort[], waitUntil(work: Promise<unknown>): void }} Asking
 * @typedef {{ skipWaiting(): Promise<void>, readonly clients: { claim(): Promise<void> }, readonly registration: { readonly sync?: { register(tag: string): Promise<void> } }, addEventListener(name: string, does: (event: any) => void): void }} Worker
 */
const worker = /** @type {Worker} */ (/** @type {unknown} */ (self));

const HOME = '/r/own/';
const FILES = '/r/own/files';
const SHARE = '/r/own/share';
const PAGES = 'own-pages';
const STILL = 'own-still';
/** A page that may be shown again has this line, hidden. */
const OFFLINE = 'id="offline" hidden';
/** Larger ones are unpacked and sent by the page. */
const MOST_BYTES = 60_000_000;
/** Busy, too slow, or too much in a quarter of an hour: it may be later. */
const LATER = [408, 429, 500, 502, 503, 504];

/** @returns {Promise<IDBDatabase>} */
function openStore() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open('own', 1);
    asked.onupgradeneeded = () =>
      asked.result.createObjectStore('kept', { keyPath: 'id', autoIncrement: true });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

/**
 * Returns once all of it is on disk.
 *
 * @template T
 * @param {(kept: IDBObjectStore) => IDBRequest<T>[]} work
 * @returns {Promise<T[]>}
 */
async function withKept(work) {
  const store = await openStore();
  try {
    return await new Promise((resolve, reject) => {
      const change = store.transaction('kept', 'readwrite', { durability: 'strict' });
      const asked = work(change.objectStore('kept'));
      change.oncomplete = () => resolve(asked.map(({ result }) => result));
      change.onerror = () => reject(change.error);
      change.onabort = () => reject(change.error);
    });
  } finally {
    store.close();
  }
}

/** @returns {Promise<Kept[]>} */
const listKept = async () => (await withKept((kept) => [kept.getAll()]))[0] ?? [];

/** @param {readonly number[]} ids */
const letGo = (ids) => withKept((kept) => ids.map((id) => kept.delete(id)));

async function forgetAll() {
  await caches.delete(PAGES);
  await withKept((kept) => [kept.clear()]);
}

/**
 * Asks the program, and lets go of everything where it no longer knows this device.
 *
 * @param {Request | string} request
 * @param {RequestInit} [how]
 */
async function ask(request, how) {
  const response = await fetch(request, how);
  if (response.headers.get('own-page') === 'gone') await forgetAll();
  return response;
}

/**
 * Keeps a page once all that it needs is kept: a line cut half-way leaves the page before it.
 *
 * @param {string} path
 * @param {Response} response
 */
async function keepPage(path, response) {
  if (response.status !== 200) return;
  const text = await response.clone().text();
  if (!text.includes(OFFLINE)) return;
  for (const [, address = ''] of text.matchAll(/(?:src|href)="(\/(?:style|script)\/[^"]+)"/g))
    await keepStill(address);
  const { headers } = response;
  await (await caches.open(PAGES)).put(path, new Response(text, { headers }));
}

/**
 * Keeps a style or script with what it imports, so that a page works as it was seen.
 *
 * @param {string} address
 */
async function keepStill(address) {
  const url = new URL(address, location.origin);
  const response = await still(url.href);
  if (!url.pathname.startsWith('/script/')) return;
  for (const [, name = ''] of (await response.text()).matchAll(/ from '(\.\/[^']+)'/g)) {
    const other = new URL(name, url).href;
    if (!(await caches.match(other))) await keepStill(other);
  }
}

/**
 * Shows a page as it was last seen, and says so; where that one was never seen, the first page.
 *
 * @param {string} path
 */
async function lastSeen(path) {
  const pages = await caches.open(PAGES);
  const found = (await pages.match(path)) ?? (await pages.match(HOME));
  if (!found) return Response.error();
  const text = (await found.text()).replace(OFFLINE, 'id="offline"');
  return new Response(text, { status: 503, headers: found.headers });
}

/** @param {Fetching} event */
async function page(event) {
  const { request } = event;
  const { pathname } = new URL(request.url);
  const response = await ask(request).catch(() => null);
  if (response === null) return lastSeen(pathname);
  if (request.method === 'GET') event.waitUntil(keepPage(pathname, response.clone()));
  return response;
}

/**
 * Keeps what was shared, and shows it as waiting. What cannot be kept goes to the program at once.
 *
 * @param {Fetching} event
 */
async function share({ request }) {
  const sent = request.clone();
  try {
    const files = (await request.formData()).getAll('files').filter((one) => one instanceof File);
    await withKept((kept) => files.map((file) => kept.add({ name: file.name, blob: file, told: null })));
  } catch {
    return ask(sent);
  }
  await worker.registration.sync?.register('send').catch(() => undefined);
  return Response.redirect(FILES, 303);
}

/** @param {string} request */
async function still(request) {
  const kept = await caches.open(STILL);
  const found = await kept.match(request);
  if (found) return found;
  const response = await fetch(request);
  if (response.status === 200) await kept.put(request, response.clone());
  return response;
}

/** Sends what waits, one at a time, and keeps what became of it until the page has shown it. Errors: no connection. */
async function sendKept() {
  for (const one of await listKept()) {
    if (one.blob === null || one.blob.size > MOST_BYTES) continue;
    const body = new FormData();
    body.append('files', one.blob, one.name);
    const response = await ask(FILES, { method: 'POST', body, headers: { accept: 'application/json' } });
    if (LATER.includes(response.status)) throw new Error('It may be sent later.');
    /** @type {Told | null} */
    const told = await response.json().catch(() => null);
    if (told !== null) await withKept((kept) => [kept.put({ ...one, blob: null, told })]);
  }
}

/** One sends at a time: the page, or this. */
const send = () => navigator.locks.request('own-send', sendKept);

/** @param {Asking} event */
async function answer({ data, ports: [port] }) {
  if (data === 'send') return void (await send().catch(() => undefined));
  if (Array.isArray(data)) await letGo(data);
  port?.postMessage(await listKept());
}

worker.addEventListener('install', () => void worker.skipWaiting());
worker.addEventListener('activate', (/** @type {Working} */ event) => {
  const begin = async () => {
    await worker.clients.claim();
    await caches.delete(STILL);
    for (const path of [HOME, FILES]) await keepPage(path, await ask(path));
  };
  event.waitUntil(begin().catch(() => undefined));
});
worker.addEventListener('sync', (/** @type {Working} */ event) => event.waitUntil(send()));
worker.addEventListener('message', (/** @type {Asking} */ event) => event.waitUntil(answer(event)));
worker.addEventListener('fetch', (/** @type {Fetching} */ event) => {
  const { method, mode, url } = event.request;
  const { pathname, origin } = new URL(url);
  if (origin !== location.origin) return;
  if (mode === 'navigate')
    event.respondWith(method === 'POST' && pathname === SHARE ? share(event) : page(event));
  else if (method === 'GET' && /^\/(style|script)\/|^\/icon/.test(pathname)) event.respondWith(still(url));
});
