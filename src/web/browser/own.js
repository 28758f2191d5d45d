import { keptFiles } from './kept.js';

/** Has the worker keep this page on a device, and says how many shared files wait to be sent. */
const waiting = document.getElementById('waiting');

async function show() {
  const kept = await keptFiles();
  if (waiting === null || kept.length === 0) return;
  waiting.hidden = false;
  const count = waiting.querySelector('[data-count]');
  if (count !== null) count.textContent = String(kept.length);
}

if ('serviceWorker' in navigator) {
  await navigator.serviceWorker.register('/r/own/worker.js', { scope: '/r/own/' }).catch(() => undefined);
  navigator.serviceWorker.addEventListener('controllerchange', () => void show());
  // The page for files sends them itself.
  const send = () =>
    document.getElementById('send') ?? navigator.serviceWorker.controller?.postMessage('send');
  addEventListener('online', send);
  send();
  await show();
}
