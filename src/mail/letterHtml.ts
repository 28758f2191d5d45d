import { html } from 'hono/html';
import type { Block, LetterEntry, LetterLink, WrittenLetter } from './letter.js';
import { STYLE, TONE } from './letterStyle.js';

/** Every text in it is escaped as it is put in. */
type LetterMarkup = ReturnType<typeof html>;

const when = (condition: boolean, markup: () => LetterMarkup): LetterMarkup | '' =>
  condition ? markup() : '';

const link = ({ label, href }: LetterLink): LetterMarkup =>
  html`<a class="ink" href="${href}" style="${TONE.link}">${label}</a>`;

const button = ({ label, href }: LetterLink): LetterMarkup =>
  html`<p style="margin:20px 0 12px"><a class="button" href="${href}" style="${TONE.button}">${label}</a></p>`;

const item = (text: string): LetterMarkup => html`<li style="margin:0 0 6px">${text}</li>`;

const row = ([label, value]: readonly [string, string]): LetterMarkup =>
  html`<tr><th class="quiet line" scope="row" style="${TONE.label}">${label}</th><td class="line" style="${TONE.value}">${value}</td></tr>`;

const entry = ({ lead, leadNote, title, lines, mark }: LetterEntry): LetterMarkup =>
  html`<tr><td class="line" style="${TONE.lead}"><strong>${lead}</strong>${when(
    leadNote !== null,
    () => html`<br><span class="quiet" style="${TONE.small}">${leadNote ?? ''}</span>`,
  )}</td><td class="line" style="${TONE.entry}"><strong>${title}</strong>${when(
    mark !== null,
    () => html` <span class="mark" style="${TONE.mark}">${mark ?? ''}</span>`,
  )}${lines.map((line) => html`<br><span class="quiet" style="${TONE.small}">${line}</span>`)}</td></tr>`;

const entriesHtml = ({ columns, entries }: Extract<Block, { kind: 'entries' }>): LetterMarkup =>
  html`<table style="${TONE.table}"><thead><tr>${columns.map(
    (column) => html`<th class="quiet line" scope="col" style="${TONE.column}">${column}</th>`,
  )}</tr></thead><tbody>${entries.map(entry)}</tbody></table>`;

const linksHtml = ({ main, others }: Extract<Block, { kind: 'links' }>): LetterMarkup =>
  html`${main === null ? '' : button(main)}${when(
    others.length > 0,
    () =>
      html`<p style="margin:0 0 16px">${others.map((other) => html`<span style="${TONE.other}">${link(other)}</span> `)}</p>`,
  )}`;

const listHtml = (title: string | null, items: readonly string[]): LetterMarkup =>
  html`${when(title !== null, () => html`<p style="margin:16px 0 4px"><strong>${title ?? ''}</strong></p>`)}<ul style="margin:0 0 12px;padding:0 0 0 20px">${items.map(item)}</ul>`;

const blockHtml = (block: Block): LetterMarkup => {
  switch (block.kind) {
    case 'paragraph':
      return html`<p style="margin:0 0 14px">${block.text}</p>`;
    case 'warning':
      return html`<div class="warning" style="${TONE.warning}"><strong>${block.text}</strong>${when(
        block.items.length > 0,
        () => html`<ul style="margin:8px 0 0;padding:0 0 0 20px">${block.items.map(item)}</ul>`,
      )}</div>`;
    case 'heading':
      return html`<h2 style="${TONE.heading}">${block.text}</h2>`;
    case 'rows':
      return html`<table style="${TONE.table}"><tbody>${block.rows.map(row)}</tbody></table>`;
    case 'list':
      return listHtml(block.title, block.items);
    case 'entries':
      return entriesHtml(block);
    case 'links':
      return linksHtml(block);
    case 'cautions':
      return html`<div class="cautions" style="${TONE.cautions}"><p style="margin:0 0 6px"><strong>${block.title}</strong></p><ul style="margin:0;padding:0 0 0 20px">${block.items.map(item)}</ul></div>`;
  }
};

const signatureHtml = (letter: WrittenLetter): LetterMarkup =>
  html`<p style="margin:20px 0 0"><strong>${letter.sender}</strong>${letter.signature.map((line) => html`<br>${line}`)}</p>`;

const footHtml = (letter: WrittenLetter): LetterMarkup | '' =>
  when(
    letter.footnotes.length > 0 || letter.stop !== null,
    () =>
      html`<div class="quiet" style="${TONE.foot}">${letter.footnotes.map(
        (note) => html`<p style="margin:0 0 8px">${note}</p>`,
      )}${letter.stop === null ? '' : html`<p style="margin:0">${link(letter.stop)}</p>`}</div>`,
  );

/** Returns the letter as one column of HTML that reads without images, in light and dark. */
export const letterHtml = (letter: WrittenLetter): string =>
  html`<!doctype html>
<html lang="${letter.language}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><meta name="supported-color-schemes" content="light dark"><title>${letter.subject}</title>${STYLE}</head>
<body class="page" style="${TONE.page}"><div class="sheet" role="main" style="${TONE.sheet}">
<p class="head ink" style="${TONE.head}">${letter.sender}</p>
<h1 style="${TONE.title}">${letter.title}</h1>
${letter.blocks.map(blockHtml)}
${signatureHtml(letter)}
${footHtml(letter)}
</div></body></html>
`.toString();
