/**
 * Sends a photograph as soon as it is chosen, made small in the browser, and puts the new pictures in their place. What is
 * typed elsewhere on the page stays. Without it the form is sent by its button.
 */

const LONGEST_SIDE = 2000;
const QUALITY = 0.88;

/**
 * Returns a picture as a smaller one; the file itself where the browser cannot read it, for the server to say so.
 *
 * @param {File} file
 * @returns {Promise<Blob>}
 */
async function smaller(file) {
  try {
    const picture = await createImageBitmap(file);
    const scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    const paper = canvas.getContext('2d');
    if (paper === null) return file;
    paper.fillStyle = '#fff';
    paper.fillRect(0, 0, canvas.width, canvas.height);
    paper.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    const made = await new Promise((/** @type {(made: Blob | null) => void} */ done) =>
      canvas.toBlob(done, 'image/jpeg', QUALITY),
    );
    return made ?? file;
  } catch {
    return file;
  }
}

/**
 * @param {HTMLFormElement} form
 * @param {string} text
 */
function say(form, text) {
  const place = form.querySelector('[data-said]');
  if (place !== null) place.textContent = text;
}

/**
 * @param {HTMLFormElement} form
 * @param {HTMLInputElement} input
 */
async function send(form, input) {
  const files = [...(input.files ?? [])];
  if (files.length === 0) return;
  say(form, form.dataset.sending ?? '');
  const data = new FormData(form);
  data.delete('photo');
  for (const file of files) data.append('photo', await smaller(file), file.name);
  input.value = '';
  const box = form.closest('.photo-box');
  try {
    const answer = await fetch(form.action, { method: 'POST', body: data });
    const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    const fault = page.querySelector('.said[role="alert"]');
    const fresh = box === null ? null : page.getElementById(box.id);
    if (fault !== null) say(form, fault.textContent?.trim() ?? '');
    else if (answer.ok && box !== null && fresh !== null) {
      const isOpen = box.querySelector('details')?.open ?? false;
      box.replaceWith(fresh);
      const details = fresh.querySelector('details');
      if (details !== null) details.open = isOpen;
      for (const one of fresh.querySelectorAll('form[data-photos]')) ready(one);
    } else say(form, form.dataset.broken ?? '');
  } catch {
    say(form, form.dataset.broken ?? '');
  }
}

/** @param {Element} form */
function ready(form) {
  if (!(form instanceof HTMLFormElement)) return;
  for (const input of form.querySelectorAll('input[type="file"]'))
    if (input instanceof HTMLInputElement) input.addEventListener('change', () => void send(form, input));
}

for (const form of document.querySelectorAll('form[data-photos]')) ready(form);
