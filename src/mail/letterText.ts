import type { Block, LetterEntry, LetterLink, WrittenLetter } from './letter.js';

/** RFC 5322 2.1.1: a line should not be longer than 78. */
const WIDTH = 76;

/** Returns the text in lines of at most 76 signs; a longer word, such as a link, stays whole. */
const wrapped = (text: string, indent = '', first = indent): string => {
  const lines: string[] = [];
  let line = first;
  let isFresh = true;
  for (const word of text.split(/[ \t\r\n]+/).filter((part) => part !== '')) {
    if (!isFresh && [...line].length + 1 + [...word].length > WIDTH) {
      lines.push(line);
      [line, isFresh] = [indent, true];
    }
    line += isFresh ? word : ` ${word}`;
    isFresh = false;
  }
  return [...lines, line].join('\n');
};

const linkText = ({ label, href }: LetterLink): string => `${label}${label.endsWith('?') ? '' : ':'} ${href}`;

const entryText = ({ lead, leadNote, title, lines, mark }: LetterEntry): string =>
  [
    wrapped([lead, leadNote === null ? '' : `(${leadNote})`, mark === null ? '' : `* ${mark}`].join(' ')),
    wrapped(title, '  '),
    ...lines.map((line) => wrapped(line, '  ')),
  ].join('\n');

const blockText = (block: Block): string => {
  switch (block.kind) {
    case 'paragraph':
      return wrapped(block.text);
    case 'warning':
      return [wrapped(block.text, '! '), ...block.items.map((item) => wrapped(item, '!   ', '! - '))].join(
        '\n',
      );
    case 'heading':
      return `${wrapped(block.text)}\n${'-'.repeat(Math.min([...block.text].length, WIDTH))}`;
    case 'rows':
      return block.rows.map(([label, value]) => wrapped(`${label}: ${value}`, '  ', '')).join('\n');
    case 'list':
      return [
        ...(block.title === null ? [] : [wrapped(`${block.title}:`)]),
        ...block.items.map((item) => wrapped(item, '  ', '- ')),
      ].join('\n');
    case 'entries':
      return block.entries.map(entryText).join('\n\n');
    case 'links':
      return [...(block.main === null ? [] : [block.main]), ...block.others].map(linkText).join('\n');
    case 'cautions':
      return [wrapped(block.title), ...block.items.map((item) => wrapped(item, '  ', '- '))].join('\n');
  }
};

/** Returns the letter as plain text. */
export const letterText = (letter: WrittenLetter): string =>
  [
    ...letter.blocks.map(blockText),
    // The mark by which mail readers know a signature.
    ['-- ', letter.sender, ...letter.signature]
      .map((line) => (line === '-- ' ? line : wrapped(line)))
      .join('\n'),
    ...letter.footnotes.map((note) => wrapped(note)),
    ...(letter.stop === null ? [] : [linkText(letter.stop)]),
  ]
    .join('\n\n')
    .concat('\n');
