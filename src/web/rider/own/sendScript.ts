import { createHash } from 'node:crypto';

/** Sends the files one by one and says of each what became of it; without it the form sends them all at once. */
export const SEND_SCRIPT = `'use strict';
(() => {
  const form = document.getElementById('send');
  const shown = document.getElementById('answers');
  const progress = document.getElementById('progress');
  const rows = shown.querySelector('tbody');
  const input = document.getElementById('files');
  const button = form.querySelector('button');
  const add = (name, says) => {
    const row = rows.insertRow();
    const head = document.createElement('th');
    head.scope = 'row';
    head.setAttribute('role', 'rowheader');
    row.setAttribute('role', 'row');
    head.textContent = name;
    head.className = 'long';
    row.append(head);
    const cell = row.insertCell();
    cell.setAttribute('role', 'cell');
    cell.dataset.label = form.dataset.answer;
    const text = document.createElement('div');
    text.textContent = says;
    cell.append(text);
    return (said, of = name) => {
      head.textContent = of;
      text.textContent = said;
    };
  };
  const send = async (file, say) => {
    const body = new FormData();
    body.append('files', file);
    const bike = form.elements.namedItem('bike');
    if (bike) body.append('bike', bike.value);
    const response = await fetch(form.action, { method: 'POST', body, headers: { accept: 'application/json' } });
    const told = await response.json();
    if (told.fault) return say(told.fault);
    told.answers.forEach((one, i) => {
      if (i === 0) say(one.says, one.file);
      else add(one.file, one.says);
      if (one.asks) document.getElementById('to-answer').hidden = false;
    });
  };
  const tell = (sent, all) => {
    progress.textContent = form.dataset.progress.replace('{sent}', sent).replace('{all}', all);
  };
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    button.disabled = true;
    const files = [...input.files];
    rows.replaceChildren();
    tell(0, files.length);
    const says = files.map((file) => add(file.name, form.dataset.sending));
    shown.hidden = false;
    shown.scrollIntoView();
    for (const [i, file] of files.entries()) {
      if (file.size > Number(form.dataset.mostBytes)) says[i](form.dataset.tooLarge);
      else await send(file, says[i]).catch(() => says[i](form.dataset.broken));
      tell(i + 1, files.length);
    }
    button.disabled = false;
    input.value = '';
  });
})();
`;

/** Its own fingerprint is in the address, so that a browser may keep it and still sees a new one. */
export const SEND_SCRIPT_PATH = `/script/${createHash('sha256').update(SEND_SCRIPT).digest('hex').slice(0, 12)}.js`;
