import { html } from 'hono/html';
import type { ShownJob } from '../../flow/plan/jobs.js';
import { actButton } from '../cells/actButton.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { formToken } from '../layout.js';
import { choice, field, type Markup, when } from '../markup.js';
import type { Viewer } from '../viewer.js';

/** What is asked, with the answer or the two presses for it; else the form that asks. */
export function questionMarkup(viewer: Viewer, shown: ShownJob, at: 'bench' | 'unit'): Markup {
  const { words, texts, today } = viewer;
  const { question: says } = texts.bench;
  const { question: asked, stay, one } = shown;
  const path = pathOfUnit(one.unit.tag);
  const from = html`${formToken(viewer)}<input type="hidden" name="from" value="${at}">`;
  if (asked !== null && asked.body.answer === 'asked') {
    const { to, why, price, day } = asked.body;
    const terms = [price, day === null ? null : words.weekday(day, today)].filter((part) => part !== null);
    return html`<section class="entry"><p><strong>${says.waits}: ${[words.serviceKind(to), ...terms].join(', ')}</strong></p><p>${why}</p>
<form method="post" action="${path}/answer" class="answers">${from}<input type="hidden" name="question" value="${asked.id}">
<button name="answer" value="yes">${says.saidYes}</button><button name="answer" value="not-now">${says.notNow}</button></form></section>`;
  }
  const isOpen = stay.job.step !== 'done' && stay.job.step !== 'informed';
  const line = when(asked !== null, () => {
    const { to, answer: said, answeredBy } = asked!.body;
    return html`<p><strong>${says.answered[said === 'yes' ? 'yes' : 'notNow'](words.serviceKind(to))}</strong> ${says.by[answeredBy ?? 'phone']}</p>`;
  });
  const id = one.unit.tag;
  const largest = shown.jobs.includes('full') ? 'full' : (shown.jobs[0] ?? '');
  const name = shown.rider?.isMailed ? shown.rider.name : null;
  return html`${line}${when(
    isOpen,
    () => html`<details><summary>${says.title}</summary><p>${says.lead}</p>
<form method="post" action="${path}/question">${from}<input type="hidden" name="wanted" value="${shown.serviceKind ?? ''}">
${field({ name: 'why', id: `why-${id}`, label: says.why, value: '', isRequired: true })}
${choice({ name: 'to', id: `to-${id}`, label: says.to, value: largest, choices: shown.jobs.map((kind) => ({ value: kind, label: words.serviceKind(kind) })) })}
${field({ name: 'price', id: `ask-price-${id}`, label: texts.bench.job.price, value: '' })}
${field({ name: 'readyBy', id: `ready-by-${id}`, label: says.readyBy, type: 'date', value: '', isShort: true })}
<p>${actButton({ id: `ask-${id}`, label: name === null ? says.hold : says.ask(name), tells: name === null ? says.callThem : says.tells(name), look: name === null ? 'usual' : 'mails' })}</p></form></details>`,
  )}`;
}
