import { html } from 'hono/html';
import { RIDE_FORMATS } from '../../../core/tokens.js';
import { listBikeNames } from '../../../flow/due/riderUnits.js';
import { choice, type Markup, NOTHING, table, when } from '../../markup.js';
import { scriptPath } from '../../scripts.js';
import { fault, type RiderPage, type RiderView, submit } from '../riderPage.js';
import { DEVICE_HOME } from './device.js';
import { mailInMarkup } from './mailIn.js';

/** So much is taken at once: it is held in memory while it is read. */
export const LARGEST_SENDING_MB = 64;
export const MOST_FILES = 100;

/** What became of one file, in the rider's words. */
export interface FileAnswer {
  readonly file: string;
  readonly says: string;
  /** The rider has to say something. */
  readonly asks: boolean;
}

/** The form by which files are sent; what it takes is read by `sendFiles`. */
export const filePage: RiderPage = {
  title: (texts) => texts.own.files.title,
  staysOpen: true,
  show: async (tx, view) => {
    const { files } = view.texts.own;
    const bikes = await listBikeNames(tx, view.opened.contact.riderId);
    return html`
<p class="lead">${files.lead}</p>
<form method="post" action="${view.home}/files" enctype="multipart/form-data" id="send"
 data-most-bytes="${LARGEST_SENDING_MB * 1_000_000}" data-sending="${files.sending}" data-broken="${files.broken}"
 data-too-large="${files.fileTooLarge(LARGEST_SENDING_MB)}" data-answer="${files.columns.answer}"
 data-progress="${files.progress('{sent}', '{all}')}" data-waiting="${files.waiting}" data-kept="${files.kept}"
 data-unreadable="${files.why.unreadable!}" data-other-one="${files.noRides(1)}" data-other-many="${files.otherMany}"
 data-formats="${RIDE_FORMATS.join('|')}">
<div class="field"><label for="files">${files.choose}</label>
<p class="hint" id="files-hint">${files.hint}</p><noscript><p class="hint">${files.limits(LARGEST_SENDING_MB, MOST_FILES)}</p></noscript>
<input id="files" name="files" type="file" multiple required aria-describedby="files-hint"></div>
${when(bikes.size > 1, () =>
  choice({
    name: 'bike',
    label: files.bike,
    value: '',
    choices: [{ value: '', label: files.anyBike }, ...[...bikes].map(([value, label]) => ({ value, label }))],
  }),
)}
${submit(files.submit, true)}
</form>
<div id="answers" role="status" hidden><h2>${files.heading}</h2>
<p id="progress"></p><p id="sum"></p>
<p><a class="button" id="to-answer" href="${view.home}/rides" hidden>${files.toAnswer}</a></p>
<details id="each" open><summary>${files.each}</summary>${answerTable(view, [])}</details></div>
${shareMarkup(view)}
${await mailInMarkup(tx, view)}
<script type="module" src="${scriptPath('sendFiles')}"></script>`;
  },
  take: async (_tx, view) => fault(view.texts.own.files.need),
};

/** How files come from other apps: shared, where the page is kept on a phone, and anywhere by two taps. */
function shareMarkup({ texts: { own }, keeping }: RiderView): Markup {
  const { title, steps, twoTaps, toKept } = own.share;
  const shared = {
    no: NOTHING,
    // A button and no link: whoever follows links without the cookie meets a page that knows nobody.
    could: html`<form method="get" action="${DEVICE_HOME}/files"><div class="field"><button>${toKept}</button></div></form>`,
    kept: html`<ol>${steps.map((step) => html`<li>${step}</li>`)}</ol>`,
  }[keeping];
  return html`<h2>${title}</h2>
${shared}<p>${twoTaps}</p>`;
}

const answerTable = ({ texts }: RiderView, answers: readonly FileAnswer[]): Markup => {
  const { columns } = texts.own.files;
  return table(
    [columns.file, columns.answer].map((label) => ({ label })),
    answers.map(({ file, says }) => ({
      head: html`<span class="long">${file}</span>`,
      cells: [html`${says}`],
    })),
  );
};

/** Returns what became of the files that were sent, and the way on. */
export const answersMarkup = (view: RiderView, answers: readonly FileAnswer[]): Markup => {
  const { files, nav } = view.texts.own;
  return html`
<div role="status">${answerTable(view, answers)}</div>
<p class="row">${when(
    answers.some(({ asks }) => asks),
    () => html`<a class="button" href="${view.home}/rides">${files.toAnswer}</a>
`,
  )}<a class="button" href="${view.home}/files">${nav.files}</a></p>`;
};
