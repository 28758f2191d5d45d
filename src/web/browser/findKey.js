/** Leads to the field that finds anything by the key that stands for it; whoever types somewhere else types on. */
addEventListener('keydown', (event) => {
  if (event.key !== '/' || event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.target instanceof Element && event.target.closest('input,select,textarea')) return;
  const field = document.getElementById('find-anything');
  if (!(field instanceof HTMLInputElement)) return;
  event.preventDefault();
  field.focus();
  field.select();
});
