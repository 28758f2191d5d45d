/** Sends a form once a photograph was chosen for it; its own button sends it without one. */

for (const form of document.querySelectorAll('form[data-send-on-photo]')) {
  if (!(form instanceof HTMLFormElement)) continue;
  form.addEventListener('change', ({ target }) => {
    const isPhoto = target instanceof HTMLInputElement && target.type === 'file';
    if (isPhoto && (target.files?.length ?? 0) > 0) form.requestSubmit();
  });
}
