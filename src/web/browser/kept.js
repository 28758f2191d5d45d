/**
 * What a rider's page asks of its worker: the files that were shared and wait, and what became of those it sent itself.
 *
 * @typedef {{ readonly id: number, readonly name: string, readonly blob: Blob | null, readonly told: { readonly fault?: string, readonly answers?: readonly { readonly says: string, readonly asks: boolean }[] } | null }} Kept
 */

/**
 * Returns what is kept, after what was dealt with is let go of; nothing where no worker is at work.
 *
 * @param {readonly number[]} done
 * @returns {Promise<readonly Kept[]>}
 */
export async function keptFiles(done = []) {
  const worker = navigator.serviceWorker?.controller;
  if (!worker) return [];
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage(done, [port2]);
  });
}
