/** Examples beside a field fill it when they are pressed; they are shown only where they can be. */
const ownZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

for (const line of document.querySelectorAll('[data-fill]')) {
  if (!(line instanceof HTMLElement)) continue;
  const field = document.getElementById(line.dataset.fill ?? '');
  if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement)) continue;
  const buttons = [...line.querySelectorAll('button')];
  const isZone = line.dataset.zone !== undefined;
  if (isZone) for (const button of buttons) button.textContent = ownZone();
  const isOffered =
    !isZone ||
    (field instanceof HTMLSelectElement &&
      field.value !== ownZone() &&
      [...field.options].some(({ value }) => value === ownZone()));
  line.hidden = !isOffered;
  for (const button of buttons)
    button.addEventListener('click', () => {
      field.value = (button.textContent ?? '').trim();
      field.dispatchEvent(new Event('change', { bubbles: true }));
      field.focus();
    });
}
