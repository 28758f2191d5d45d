/**
 * Sends ride files one by one and says of each what became of it; without it the form sends them all at once.
 *
 * @typedef {{ readonly file: string, readonly says: string, readonly asks: boolean }} Answer
 * @typedef {{ readonly fault?: string, readonly answers: readonly Answer[] }} Told
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
const input = part('files', HTMLInputElement);
const [rows] = shown.getElementsByTagName('tbody');
const [button] = form.getElementsByTagName('button');
const says = form.dataset;

/**
 * Adds a line to the table; what it returns says something else in it, or names another file.
 *
 * @param {string} name
 * @param {string | undefined} text
 * @returns {(said: string | undefined, of?: string) => void}
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
  return (said, of = name) => {
    head.textContent = of;
    told.textContent = said ?? '';
  };
}

/**
 * @param {File} file
 * @param {ReturnType<typeof add>} say
 */
async function send(file, say) {
  const body = new FormData();
  body.append('files', file);
  const bike = form.elements.namedItem('bike');
  if (bike instanceof HTMLSelectElement) body.append('bike', bike.value);
  const response = await fetch(form.action, {
    method: 'POST',
    body,
    headers: { accept: 'application/json' },
  });
  const told = /** @type {Told} */ (await response.json());
  if (told.fault) return say(told.fault);
  for (const [i, one] of told.answers.entries()) {
    if (i === 0) say(one.says, one.file);
    else add(one.file, one.says);
    if (one.asks) part('to-answer', HTMLElement).hidden = false;
  }
}

/**
 * @param {number} sent
 * @param {number} all
 */
function tell(sent, all) {
  progress.textContent = (says.progress ?? '').replace('{sent}', String(sent)).replace('{all}', String(all));
}

form.addEventListener('submit', async (event) => {
  event.preventDefault();
  if (button) button.disabled = true;
  const files = [...(input.files ?? [])];
  rows?.replaceChildren();
  tell(0, files.length);
  const lines = files.map((file) => ({ file, say: add(file.name, says.sending) }));
  shown.hidden = false;
  shown.scrollIntoView();
  for (const [i, { file, say }] of lines.entries()) {
    if (file.size > Number(says.mostBytes)) say(says.tooLarge);
    else await send(file, say).catch(() => say(says.broken));
    tell(i + 1, files.length);
  }
  if (button) button.disabled = false;
  input.value = '';
});
