import { oneLine } from '../core/lines.js';
import type { FilesTakenContent } from '../core/notices/mailContent.js';
import { fileWhy } from '../languages/fileText.js';
import { riderTextsFor } from '../languages/index.js';
import { contactOf, rendered, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';

/** Returns the answer to a rider who mailed rides: what was taken, what needs a word, what was no ride. */
export const renderFilesTaken = (of: FilesTakenContent): Rendered => {
  const { workshop, rider, links } = of;
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const { filesTaken } = texts;
  const contact = contactOf(workshop, texts);
  const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
  return rendered(workshop, voice, {
    subject: filesTaken.subject(of.rides),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      ...(of.isEmpty ? [paragraph(filesTaken.empty)] : []),
      ...(of.rides > 0 ? [paragraph(filesTaken.counted(of.rides, words.hours(of.movingHours)))] : []),
      ...gainRows(of, words.hours, filesTaken.grew),
      ...(of.asks > 0 ? [paragraph(filesTaken.asks(of.asks))] : []),
      ...otherRows(of, rider.language, filesTaken),
      ...(links === null
        ? []
        : [linkTo({ label: of.asks > 0 ? filesTaken.answer : texts.reminder.ownPage, href: links.ownPage })]),
    ],
    footnotes: links === null ? [filesTaken.stopWithout(contact)] : [],
    stop: links === null ? null : { label: filesTaken.stop, href: links.stopMails },
  });
};

const linkTo = (main: { readonly label: string; readonly href: string }): Block => ({
  kind: 'links',
  main,
  others: [],
});

const gainRows = ({ gains }: FilesTakenContent, hours: (hours: number) => string, grew: string): Block[] =>
  gains.length === 0
    ? []
    : [
        { kind: 'paragraph', text: grew },
        { kind: 'rows', rows: gains.map(({ tag, terrainHours }) => [tag, `+${hours(terrainHours)}`]) },
      ];

function otherRows(
  { others, more }: FilesTakenContent,
  language: string,
  texts: { readonly others: string; readonly more: (files: number) => string },
): Block[] {
  if (others.length === 0) return [];
  const { files } = riderTextsFor(language).own;
  const items = others.map(({ file, told }) =>
    [file === '' ? '' : `${oneLine(file)}:`, files.said[told.outcome], fileWhy(files, told)]
      .filter((text) => text !== '')
      .join(' '),
  );
  return [{ kind: 'list', title: texts.others, items: more === 0 ? items : [...items, texts.more(more)] }];
}
